import { describe, expect, it } from 'vitest';
import type { Known } from '../../../shared/burner-state/chain/bins.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { captureOf, follow, type Live, litAt11, openedAt10, readingsOf, type Story, towards } from '../story.ts';

/** Pressures as a hand turns the regulator down by a tenth of an inH2O in a second from `at` on, in one stroke of 0.02 after the other. */
const turned = (from: number, to: number, t: number, at: number): number =>
  t < at ? from : Math.max(to, from - 0.02 * Math.floor((t - at) * 5));
/** A full signal until the flame is lost, then the detector's decay. */
const lostAt = (t: number, at: number): number => towards(5, 0.02, 0.5, t, at);
const known = (fanOnly?: number): Known => ({
  signalUnit: 'V',
  trialSeconds: 10,
  ...(fanOnly !== undefined && { fanOnly }),
});
const followed = ({ seconds, ...story }: Story, fanOnly?: number): Live[] =>
  follow(readingsOf({ seconds, ...story }), seconds, undefined, known(fanOnly));
/** What was said of gas and flame after a time, and the alarms then. */
const saidAfter = (told: readonly Live[], s: number) => ({
  gas: new Set(told.filter(({ now }) => now.atS > s).map(({ now }) => now.moment.gas)),
  alarms: new Set(told.filter(({ nowS }) => nowS > s).map(({ alarm }) => alarm)),
});

describe('a flame that burns as recording begins, and is lost as the regulator comes to rest', () => {
  // Nobody has seen gas shut, and nobody has entered the fan-only pressure.
  it.each([
    [0.7, 25],
    [0.5, 27],
  ])('at %d inH2O is lost with gas on, not shut off: a hand turns slower than a valve shuts', (to, at) => {
    const story: Story = { seconds: 90, pressure: (t) => turned(2, to, t, 12), signal: (t) => lostAt(t, at) };
    const told = followed(story);
    expect(told.find(({ alarm }) => alarm)!.nowS).toBeGreaterThan(at);
    expect(told.find(({ alarm }) => alarm)!.nowS).toBeLessThan(at + 2);
    expect(saidAfter(told, at + 3)).toEqual({ gas: new Set(['flowing']), alarms: new Set(['flame-lost']) });
    const { spans } = trackCapture(captureOf(readingsOf(story)), {});
    expect(spans.at(-1)).toMatchObject({ gas: 'flowing', flame: 'lost' });
  });
});

describe('a flame that is lost while the regulator is turned, and the hand turns on', () => {
  // Down to where shut gas might stand: nobody has seen it shut, and nobody has entered the fan-only pressure.
  it.each([0, 0.05, 0.1])(
    'is lost at 0.8 inH2O with gas on, down to 0.4 and there: strokes %f s after a reading',
    (shift) => {
      const at = 24 + shift;
      const told = followed({
        seconds: 60,
        pressure: (t) => turned(2, 0.4, t, 12 + shift),
        signal: (t) => lostAt(t, at),
      });
      expect(told.find(({ alarm }) => alarm)!.nowS).toBeLessThan(at + 2);
      expect(saidAfter(told, at).gas).not.toContain('shut');
      expect(saidAfter(told, at + 5).alarms).toEqual(new Set(['flame-lost']));
    },
  );
});

describe('a flame that burns as recording begins, lost as the regulator is turned down at any speed', () => {
  /** From 2.5 inH2O at 12 s down by `perS` inH2O in a second, five strokes in each; lost at `lost`, and turned on by `more`. */
  const down = (perS: number, lost: number, more: number) => {
    const at = 12 + (2.5 - lost) / perS;
    const pressure = (t: number) =>
      t < 12 ? 2.5 : Math.max(lost - more, 2.5 - (perS / 5) * Math.floor((t - 12) * 5 + 1e-9));
    const story: Story = { seconds: Math.ceil(at) + 30, pressure, signal: (t) => lostAt(t, at) };
    return { at, told: followed(story) };
  };
  const lostAndMore = [0.5, 0.6, 0.8, 1, 1.2].flatMap((lost) =>
    [0, 0.1, 0.3].map((more): [number, number] => [lost, more]),
  );

  it.each([0.05, 0.1, 0.15, 0.3])('at %f inH2O in a second is lost with gas on, never shut off', (perS) => {
    for (const [lost, more] of lostAndMore) {
      const { at, told } = down(perS, lost, more);
      expect(saidAfter(told, at).gas, `lost at ${lost}, on by ${more}`).not.toContain('shut');
      // Where a faster hand comes to rest at 0.3 inH2O, shut gas is as probable: unknown, and no alarm.
      if (perS > 0.2 && lost - more < 0.35) continue;
      expect(told.find(({ alarm }) => alarm)?.nowS, `lost at ${lost}, on by ${more}`).toBeLessThan(at + 5);
    }
  });

  it.each([0.6, 1])('at %f inH2O in a second is not called shut off where shut gas seldom stands', (perS) => {
    for (const [lost, more] of lostAndMore.filter(([lost, more]) => lost - more > 0.55)) {
      const { at, told } = down(perS, lost, more);
      expect(told.find(({ alarm }) => alarm)?.nowS, `lost at ${lost}, on by ${more}`).toBeLessThan(at + 5);
      expect(saidAfter(told, at).gas, `lost at ${lost}, on by ${more}`).not.toContain('shut');
    }
  });
});

describe('gas that is shut while the regulator is turned, or just after', () => {
  /** Burning from the start, or lit at 5 s; turned down from 2 to 1.2 inH2O from 12 to 20 s. */
  const shutAt = (at: number, tau: number, isSeenShut: boolean): Story => {
    const open = (t: number) => (isSeenShut && t < 5 ? 0.2 : turned(2, 1.2, t, 12));
    // The flame goes out as the flow falls.
    const outS = at + 0.15 + 0.3 * tau;
    const signal = (t: number) => (isSeenShut && t < 5.5 ? 0.02 : lostAt(t, outS));
    return { seconds: 60, pressure: (t) => (t < at ? open(t) : towards(open(at), 0.2, tau, t, at)), signal };
  };

  it.each(
    [0.1, 0.3, 0.8].flatMap((tau) => [16, 19.9, 20.5].flatMap((at) => [true, false].map((seen) => [tau, at, seen]))),
  )('is no lost flame: time constant %f s, shut at %f s, seen shut before: %s', (tau, at, isSeenShut) => {
    const after = saidAfter(followed(shutAt(Number(at), Number(tau), isSeenShut === true)), 12);
    expect(after.alarms).toEqual(new Set([undefined]));
    expect(after.gas).toContain('shut');
  });

  it.each([16, 19.9, 20.5])(
    'by a valve that takes ten seconds, at %f s, may raise an alarm, which ends where gas stood shut before',
    (at) => {
      const told = followed(shutAt(at, 2.5, true));
      expect(saidAfter(told, at + 15)).toEqual({ gas: new Set(['shut']), alarms: new Set([undefined]) });
    },
  );
});

describe('an alarm while the regulator is turned on down', () => {
  const pressure = (t: number) => (t < 35 ? turned(1.5, 0.5, t, 20) : turned(0.5, 0.3, t, 41));

  it('goes on, the fan-only pressure of 0.2 inH2O being entered', () => {
    const told = followed({ seconds: 70, pressure, signal: (t) => lostAt(t, 33) }, 0.2);
    expect(saidAfter(told, 35).alarms).toEqual(new Set(['flame-lost']));
    expect(saidAfter(told, 35).gas).not.toContain('shut');
  });

  it('goes on until gas stands where it stood before, the fan-only pressure not being entered', () => {
    const story: Story = {
      seconds: 90,
      pressure: (t) =>
        t < 20 ? towards(0.2, 1.5, 0.15, t, 10) : t < 53 ? pressure(t) : towards(0.3, 0.2, 0.15, t, 53),
      signal: (t) => (t < 33 ? litAt11(t) : lostAt(t, 33)),
    };
    const told = followed(story);
    const until53 = told.filter(({ nowS }) => nowS < 53);
    expect(saidAfter(until53, 35).alarms).toEqual(new Set(['flame-lost']));
    expect(saidAfter(until53, 35).gas).not.toContain('shut');
    expect(saidAfter(told, 60)).toEqual({ gas: new Set(['shut']), alarms: new Set([undefined]) });
  });
});

describe('a fan-only pressure that was entered too high', () => {
  // A flame that burns at a pressure takes gas: the entry is wrong, whatever it says.
  it.each<[string, number, number, Omit<Story, 'seconds'>]>([
    [
      'a flame burned below it: 0.7 entered, burning at 0.5 inH2O',
      0.7,
      30,
      { pressure: (t) => turned(2, 0.5, t, 5), signal: (t) => lostAt(t, 30) },
    ],
    [
      'gas was shut below it: 0.3 entered, shut at 0.1, lost at 0.35 inH2O',
      0.3,
      35,
      {
        pressure: (t) => (t < 15 ? towards(0.1, 1.5, 0.15, t, 10) : turned(1.5, 0.35, t, 15)),
        signal: (t) => (t < 35 ? litAt11(t) : lostAt(t, 35)),
      },
    ],
  ])('is not believed where %s', (_, entered, lostS, story) => {
    const told = followed({ seconds: 70, ...story }, entered);
    expect(told.filter(({ nowS }) => nowS < lostS).find(({ alarm }) => alarm)).toBeUndefined();
    expect(saidAfter(told, lostS + 3)).toEqual({ gas: new Set(['flowing']), alarms: new Set(['flame-lost']) });
  });

  it('is believed while nothing contradicts it: 0.5 entered, opened from there and shut again', () => {
    const story: Story = {
      seconds: 60,
      pressure: (t) => (t < 30 ? Math.max(0.5, openedAt10(t)) : towards(3, 0.5, 0.2, t, 30)),
      signal: (t) => (t < 30.2 ? litAt11(t) : lostAt(t, 30.2)),
    };
    const told = followed(story, 0.5);
    expect(told.find(({ alarm }) => alarm)).toBeUndefined();
    expect(saidAfter(told, 34).gas).toEqual(new Set(['shut']));
  });
});
