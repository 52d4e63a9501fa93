import { describe, expect, it } from 'vitest';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { at, captureOf, follow, type Live, litAt11, openedAt10, readingsOf, type Story, towards } from '../story.ts';

const live = (story: Story, valveOpen?: (nowS: number) => boolean | undefined): Live[] =>
  follow(readingsOf(story), story.seconds, valveOpen);
/** When an alarm first sounds; undefined when it never does. */
const firstAlarm = (told: readonly Live[]): number | undefined => told.find(({ alarm }) => alarm)?.nowS;

/** Burns from 11 s; the flame goes out at 30 s and the gas stays on. */
const lost: Story = {
  seconds: 45,
  pressure: openedAt10,
  signal: (t) => (t < 30 ? litAt11(t) : towards(5, 0.02, 0.6, t, 30)),
};

describe('a flame lost with gas on', () => {
  it('sounds within two seconds', () => {
    const told = live(lost);
    expect(told.find(({ alarm }) => alarm)).toMatchObject({ alarm: 'flame-lost' });
    expect(firstAlarm(told)).toBeGreaterThan(30);
    expect(firstAlarm(told)).toBeLessThanOrEqual(32);
  });
  it('goes on when the flame returns by itself, until the gas is shut', () => {
    const told = live({
      seconds: 70,
      pressure: (t) => (t < 50 ? openedAt10(t) : towards(3, 0.2, 0.2, t, 50)),
      signal: (t) => {
        if (t < 36) return lost.signal(t);
        return t < 50.3 ? towards(0.02, 5, 0.6, t, 36) : towards(5, 0.02, 0.6, t, 50.3);
      },
    });
    expect(at(told, 45)).toMatchObject({ alarm: 'flame-lost', now: { latest: { flame: 'burning' } } });
    expect(at(told, 60)).toMatchObject({ alarm: undefined, now: { latest: { gas: 'shut' } } });
  });
  it('is told apart from a valve that shuts', () => {
    const told = live({
      seconds: 50,
      pressure: (t) => (t < 30 ? openedAt10(t) : towards(3, 0.2, 0.2, t, 30)),
      signal: (t) => (t < 30.3 ? litAt11(t) : towards(5, 0.02, 0.6, t, 30.3)),
    });
    expect(firstAlarm(told)).toBeUndefined();
    expect(at(told, 45).now.moment).toMatchObject({ gas: 'shut', flame: 'out' });
  });
});

describe('what is no lost flame', () => {
  it('a pulse of 0.4 s of a self-checking detector', () => {
    const told = live({
      seconds: 60,
      pressure: openedAt10,
      signal: (t) => {
        const since = t > 20 ? (t - 20) % 8 : 8;
        return since < 0.4 ? towards(5, 0.02, 0.15, since, 0) : towards(0.4, litAt11(t), 0.15, since, 0.4);
      },
    });
    expect(firstAlarm(told)).toBeUndefined();
  });
  it('a signal that sags to a third while the pressure is turned down a shoulder', () => {
    const told = live({
      seconds: 60,
      pressure: (t) => (t < 25 ? openedAt10(t) : Math.max(2, 3 - 0.1 * (t - 25))),
      // Follows 0.5 s behind the pressure: full above 2.4 inH2O, 1.7 V at 2 inH2O.
      signal: (t) => (t < 25 ? litAt11(t) : Math.min(5, 5 - 8.2 * (2.4 - Math.max(2, 3 - 0.1 * (t - 25.5))))),
    });
    expect(firstAlarm(told)).toBeUndefined();
    expect(at(told, 55).now.moment).toMatchObject({ gas: 'flowing', flame: 'burning' });
  });
  it('a frozen or a silent signal meter', () => {
    expect(firstAlarm(live({ ...lost, signal: (t) => (t < 28 ? litAt11(t) : undefined) }))).toBeUndefined();
  });
});

describe('gas without a flame', () => {
  it('sounds once it has flowed for longer than the trial of 10 s, and not before', () => {
    const told = live({ seconds: 40, pressure: openedAt10, signal: () => 0.02 });
    expect(told.find(({ alarm }) => alarm)).toMatchObject({ alarm: 'gas-unlit' });
    expect(firstAlarm(told)).toBeGreaterThan(20);
    expect(firstAlarm(told)).toBeLessThanOrEqual(22);
  });
  it('sounds when the valve is shut and the pressure stays up', () => {
    const told = live({ seconds: 45, pressure: openedAt10, signal: litAt11 }, (nowS) => nowS >= 10 && nowS < 30);
    expect(told.find(({ alarm }) => alarm)).toMatchObject({ alarm: 'not-shut' });
    expect(firstAlarm(told)).toBeGreaterThan(33);
    expect(firstAlarm(told)).toBeLessThanOrEqual(36);
  });
});

describe('a dark signal of 0.3 V, before any flame', () => {
  it('is no flame and gives no alarm, although the fan-only pressure is not known', () => {
    const told = live({ seconds: 30, pressure: () => 0.25, signal: () => 0.3 });
    expect(firstAlarm(told)).toBeUndefined();
    expect(at(told, 25).now.moment).toMatchObject({ gas: 'shut', flame: 'dark' });
  });
});

describe('a meter in trouble, live', () => {
  it('is silent, the manometer: gas unknown, and since when', () => {
    const told = live({ seconds: 40, pressure: (t) => (t < 25 ? openedAt10(t) : undefined), signal: litAt11 });
    expect(at(told, 35).now.moment.gas).toBe('unknown');
    expect(at(told, 35).now.pressureTrouble!.kind).toBe('silent');
    expect(at(told, 35).now.pressureTrouble!.sinceS).toBeCloseTo(24.8, 6);
    expect(at(told, 24).now.pressureTrouble).toBeUndefined();
  });
  it('says overload, the signal meter: no flame is claimed', () => {
    const told = live({ seconds: 40, pressure: openedAt10, signal: (t) => (t < 25 ? litAt11(t) : Number.NaN) });
    expect(at(told, 30).now).toMatchObject({ signalTrouble: { kind: 'no-number' }, moment: { flame: 'unknown' } });
  });
});

it('live and hindsight agree on a quiet visit, but for two seconds around its beginning and its changes', () => {
  const story: Story = {
    seconds: 60,
    pressure: (t) => (t < 40 ? openedAt10(t) : towards(3, 0.2, 0.2, t, 40)),
    signal: (t) => (t < 40.3 ? litAt11(t) : towards(5, 0.02, 0.6, t, 40.3)),
  };
  const { spans } = trackCapture(captureOf(readingsOf(story)), {});
  const away = live(story).filter(({ now: { atS } }) =>
    [0, 10, 12, 40, 42].every((change) => Math.abs(atS - change) > 2),
  );
  expect(away.length).toBeGreaterThan(400);
  for (const { now } of away) {
    const span = spans.find(({ from_s, to_s }) => from_s <= now.atS - 0.05 && now.atS - 0.05 < to_s)!;
    expect([now.atS, now.moment.gas, now.moment.flame]).toEqual([now.atS, span.gas, span.flame]);
  }
});

it('speaks of a moment less than a second ago', () => {
  for (const { nowS, now } of live({ ...lost, seconds: 20 }).slice(10)) expect(nowS - now.atS).toBeLessThan(1.0 + 0.05);
});
