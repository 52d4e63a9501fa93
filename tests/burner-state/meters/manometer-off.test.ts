import { describe, expect, it } from 'vitest';
import { settingRefusal } from '../../../shared/burner-state/permissions.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import type { Mark } from '../../../shared/model/capture.ts';
import { saidGasOff } from '../../../shared/model/said-gas-off.ts';
import { at, captureOf, follow, litAt11, openedAt10, readingsOf, type Story, towards } from '../story.ts';

/** Burns from 11 s; the hose comes off the manometer at 25 s, to the fan-only pressure or the open air, and the flame goes out at 40 s. */
const hoseOff = (shows: number): Story => ({
  seconds: 70,
  pressure: (t) => (t < 25 ? openedAt10(t) : shows),
  signal: (t) => (t < 40 ? litAt11(t) : towards(5, 0.02, 0.6, t, 40)),
});
const told = (story: Story) => follow(readingsOf(story), story.seconds);

describe.each([0, 0.2])('a manometer that shows %s inH2O while the flame burns on', (shows) => {
  const said = told(hoseOff(shows));
  it('is in trouble within four seconds, and lets no pressure be set', () => {
    for (const s of [29, 35]) {
      const { now } = at(said, s);
      expect(now.pressureTrouble).toMatchObject({ kind: 'off' });
      expect(now.moment.gas).toBe('unknown');
      expect(settingRefusal({ now, alarm: undefined })?.code).toBe('manometer-off');
    }
  });
  it('does not end the alarm of the flame that then goes out: gas may flow', () => {
    expect(at(said, 43)).toMatchObject({ alarm: 'flame-lost', raised: { gasUnseen: true } });
    for (const s of [50, 60, 69]) expect(at(said, s).alarm).toBe('flame-lost');
  });
});

it('it is believed again once it shows gas, and the alarm ends when that is shut', () => {
  const story = hoseOff(0);
  const back = told({ ...story, pressure: (t) => (t < 50 ? story.pressure(t) : towards(3, 0.2, 0.2, t, 56)) });
  expect(at(back, 54).alarm).toBe('flame-lost');
  expect(at(back, 54).now.pressureTrouble).toBeUndefined();
  expect(at(back, 65).alarm).toBeUndefined();
});

it('so is one that is damped, and shows the fall only bit by bit', () => {
  const damped = told({ ...hoseOff(0), pressure: (t) => (t < 25 ? openedAt10(t) : towards(3, 0, 0.3, t, 25)) });
  expect(at(damped, 35).now.pressureTrouble).toMatchObject({ kind: 'off' });
  expect(at(damped, 69).alarm).toBe('flame-lost');
});

// A gauge that takes three seconds and more to creep down to where gas stands shut.
it.each([0.5, 0.7, 0.9])('and one whose damping takes %s s to two thirds', (tau) => {
  const creeping = told({ ...hoseOff(0.2), pressure: (t) => (t < 25 ? openedAt10(t) : towards(3, 0.2, tau, t, 25)) });
  expect(at(creeping, 35).now.pressureTrouble).toMatchObject({ kind: 'off' });
  for (const s of [43, 50, 69])
    expect(at(creeping, s)).toMatchObject({ alarm: 'flame-lost', raised: { gasUnseen: true } });
});

// The signal of a slow detector is seen for seconds after the gas was shut.
it.each([0.3, 1, 2, 3.5])('gas that is shut over a flame is no such trouble: detector of %s s', (lagS) => {
  const story: Story = {
    seconds: 70,
    pressure: (t) => (t < 40 ? openedAt10(t) : towards(3, 0.2, 0.3, t, 40)),
    signal: (t) => (t < 40.4 ? towards(0.02, 5, lagS, t, 11) : towards(5, 0.02, lagS, t, 40.4)),
  };
  for (const { now } of told(story)) expect(now.pressureTrouble).toBeUndefined();
});

// Shares and times of decay from memory of the trade: refractory glows for tens of seconds, and some detectors see it.
it.each([
  { share: 0.8, glowsS: 10 },
  { share: 0.8, glowsS: 25 },
  { share: 0.9, glowsS: 15 },
  { share: 0.9, glowsS: 40 },
])('nor are hot walls that give $share of the signal and cool within $glowsS s', ({ share, glowsS }) => {
  const story: Story = {
    seconds: 70,
    pressure: (t) => (t < 40 ? openedAt10(t) : towards(3, 0.2, 0.2, t, 40)),
    signal: (t) => {
      const glow = 0.02 + 5 * share * Math.exp(-(t - 40.2) / glowsS);
      return t < 40.2 ? litAt11(t) : glow + 5 * (1 - share) * Math.exp(-(t - 40.2) / 0.4);
    },
  };
  for (const { now, alarm } of told(story)) {
    expect(now.pressureTrouble).toBeUndefined();
    expect(alarm).toBeUndefined();
  }
});

it('a hose that comes off under a flickering flame is noticed all the same', () => {
  const flicker = (t: number) => 1 + 0.12 * Math.sin(5 * t) + 0.06 * Math.sin(13 * t);
  const story = hoseOff(0.2);
  const said = told({ ...story, signal: (t) => (t < 13 || t >= 40 ? story.signal(t) : story.signal(t)! * flicker(t)) });
  expect(at(said, 35).now.pressureTrouble).toMatchObject({ kind: 'off' });
  expect(at(said, 45)).toMatchObject({ alarm: 'flame-lost', raised: { gasUnseen: true } });
});

// Each reading of the signal as it is: one a second of a detector of 3.5 s that begins to fall half a second after the gas was shut.
it('a signal meter of one reading a second leaves no doubt of gas that was shut under a slow detector', () => {
  const signal = (t: number) => (t < 40.5 ? towards(0.02, 5, 3.5, t, 11) : towards(5, 0.02, 3.5, t, 40.5));
  const pressure = (t: number) => (t < 40 ? openedAt10(t) : towards(3, 0.2, 0.2, t, 40));
  const slow = readingsOf({ seconds: 70, pressure, signal }).filter(
    ({ role, elapsedS }) => role === 'pilot_pressure' || Math.round(elapsedS * 10) % 10 === 1,
  );
  for (const { now, alarm } of follow(slow, 70)) {
    expect(now.pressureTrouble).toBeUndefined();
    expect(alarm).toBeUndefined();
  }
});

describe.each([
  { fanOnly: 0, shows: 0, foundS: 20 },
  { fanOnly: 0.2, shows: 0.2, foundS: 20 },
  // What no longer shows the fan is found as soon as the slowest gauge would have shown the gas.
  { fanOnly: 0.2, shows: 0, foundS: 8 },
])('a hose that comes off between two trials, $fanOnly inH2O before and $shows after', ({ fanOnly, shows, foundS }) => {
  /** Gas and flame from 20 s to 35 s; the hose comes off at 45 s; another flame burns from 61 s on and is lost at 100 s with gas on. */
  const story: Story = {
    seconds: 120,
    pressure: (t) => {
      if (t > 45) return shows;
      return t < 35 ? towards(fanOnly, 2.4, 0.15, t, 20) : towards(2.4, fanOnly, 0.2, t, 35);
    },
    signal: (t) => {
      if (t < 35.4) return towards(0.02, 5, 0.5, t, 21);
      if (t < 61) return towards(5, 0.02, 0.5, t, 35.4);
      return t < 100 ? towards(0.02, 5, 0.5, t, 61) : towards(5, 0.02, 0.5, t, 100);
    },
  };
  const said = follow(readingsOf(story), 120, undefined, {
    signalUnit: 'V',
    trialSeconds: 10,
    fanOnly,
    minimumSignal: 1.25,
  });
  it('is found when the signal has stayed for longer than any spark', () => {
    for (const s of [61 + foundS, 80, 95, 119]) expect(at(said, s).now.pressureTrouble).toMatchObject({ kind: 'off' });
    for (const s of [63, 70, 75]) expect(at(said, s).now.moment.flame).not.toMatch(/dark|out|lost/u);
  });
  it('and the flame that is lost over gas that nobody sees raises an alarm that stays', () => {
    for (const s of [103, 119]) expect(at(said, s)).toMatchObject({ alarm: 'flame-lost', raised: { gasUnseen: true } });
  });
});

// Gas at 10 s, a flame at 10.5 s behind a quick detector; the gauge gives a reading every two seconds and is damped.
it.each([0.5, 0.8, 1])(
  'a gauge that is slow and damped by %s s is not taken for off as the pilot lights',
  (dampedS) => {
    const readings = readingsOf({
      seconds: 40,
      pressure: (t) => (Math.round(t * 5) % 10 === 0 ? towards(0.2, 2.4, dampedS, t, 10) : undefined),
      signal: (t) => towards(0.02, 4.6, 0.2, t, 10.5),
    });
    const said = follow(readings, 40, undefined, {
      signalUnit: 'V',
      trialSeconds: 10,
      fanOnly: 0.2,
      minimumSignal: 1.25,
    });
    expect(said.filter(({ now }) => now.pressureTrouble?.kind === 'off')).toEqual([]);
    expect(at(said, 20).now.moment).toMatchObject({ gas: 'flowing', flame: 'burning' });
  },
);

describe('a manometer that has shown neither gas nor fan, under a signal as high as a flame’s', () => {
  const seen = (seconds: number) =>
    told({
      seconds: 60,
      pressure: () => 0,
      signal: (t) => (t < 20 + seconds ? towards(0.02, 4.6, 0.3, t, 20) : towards(4.6, 0.02, 0.3, t, 20 + seconds)),
    });
  it('is believed while it may be a spark', () => {
    const spark = seen(12);
    expect(spark.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
    for (const { now } of spark) {
      expect(now.pressureTrouble).toBeUndefined();
      expect(now.moment.gas).not.toBe('flowing');
    }
  });
  it('is taken for off when it stays for longer: what burns then, and is lost, raises an alarm', () => {
    const pilot = seen(25);
    expect(at(pilot, 37).now.pressureTrouble).toMatchObject({ kind: 'off' });
    expect(at(pilot, 49)).toMatchObject({ alarm: 'flame-lost', raised: { gasUnseen: true } });
  });
});

// What the technician said of the hose holds with hindsight as well, from that moment on.
it('with hindsight gas is unknown behind it until the technician says that it is off and the hose is on', () => {
  const capture = captureOf(readingsOf(hoseOff(0.2)));
  const text = `${saidGasOff}. The alarm is over.`;
  const gasAt = (marks: Mark[], s: number) =>
    trackCapture({ ...capture, marks }, {}).spans.find(({ from_s, to_s }) => from_s <= s && s < to_s)?.gas;
  const said: Mark[] = [{ elapsedS: 55, kind: 'gas-shut', text }];
  expect([50, 60, 68].map((s) => gasAt([], s))).toEqual(['unknown', 'unknown', 'unknown']);
  expect([50, 60, 68].map((s) => gasAt(said, s))).toEqual(['unknown', 'shut', 'shut']);
  // The end of an alarm that a meter showed says nothing of the hose.
  expect(gasAt([{ elapsedS: 55, kind: 'gas-shut', text: 'The alarm is over.' }], 60)).toBe('unknown');
});
