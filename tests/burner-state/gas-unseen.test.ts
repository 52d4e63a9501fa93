import { describe, expect, it } from 'vitest';
import { trackCapture } from '../../shared/burner-state/track.ts';
import { nextAlarm, noAlarm } from '../../shared/burner-state/alarms.ts';
import type { BurnerNow } from '../../shared/burner-state/tracker.ts';
import { alarmFault } from '../../shared/burner-state/permissions.ts';
import { at, captureOf, follow, litAt11, openedAt10, readingsOf, type Story, towards } from './story.ts';

/** Burns from 11 s; the manometer fails at 25 s, the flame goes out at 40 s, and nobody sees whether the gas was shut. */
const unseen: Story = {
  seconds: 70,
  pressure: (t) => (t < 25 ? openedAt10(t) : undefined),
  signal: (t) => (t < 40 ? litAt11(t) : towards(5, 0.02, 0.6, t, 40)),
};
const alarmsOf = (story: Story, valveOpen?: (nowS: number) => boolean | undefined) =>
  follow(readingsOf(story), story.seconds, valveOpen);
const kinds = (told: ReturnType<typeof alarmsOf>) => [...new Set(told.map(({ alarm }) => alarm))];

describe('a flame that goes out while the manometer gives no reading', () => {
  it.each([
    ['is silent', () => undefined],
    ['says overload', () => Number.NaN],
  ])('is lost over gas that may flow: the manometer %s', (_, pressure) => {
    const told = alarmsOf({ ...unseen, pressure: (t) => (t < 25 ? openedAt10(t) : pressure()) });
    const first = told.find(({ alarm }) => alarm)!;
    expect(first.alarm).toBe('flame-lost');
    expect(first.nowS).toBeGreaterThan(40);
    expect(first.nowS).toBeLessThanOrEqual(43);
    expect(at(told, 69).alarm).toBe('flame-lost');
  });
  it('is lost too where the frozen manometer still shows the pressure of flowing gas', () => {
    const readings = readingsOf({ ...unseen, pressure: openedAt10 }).map((each) =>
      each.role === 'pilot_pressure' && each.elapsedS >= 20 ? { ...each, value: 2.99 } : each,
    );
    const told = follow(readings, 70);
    expect(told.find(({ alarm }) => alarm)).toMatchObject({ alarm: 'flame-lost' });
    expect(at(told, 43).alarm).toBe('flame-lost');
  });
  it('is no alarm any more once the manometer is back and shows shut gas', () => {
    const told = alarmsOf({ ...unseen, pressure: (t) => (t > 55 ? 0.2 : unseen.pressure(t)) });
    expect(at(told, 50).alarm).toBe('flame-lost');
    expect(at(told, 65).alarm).toBeUndefined();
  });
  it('is no alarm any more once gas is surely shut, although nobody can say whether a flame went out or never was', () => {
    const moment = { gas: 'shut', flame: 'out', regulator: 'unknown', probability: 0.72 } as const;
    const memory = { ...noAlarm, alarm: { kind: 'flame-lost', sinceS: 40, gasUnseen: true } as const, gasOn: true };
    const input = (shut: number) => ({
      nowS: 60,
      now: { latest: moment, moment, atS: 59, shut, lost: 0, unlit: 0, dark: 1 } as BurnerNow,
      trialSeconds: 10,
      valveOpen: undefined,
    });
    expect(nextAlarm(memory, input(0.99)).alarm).toBeUndefined();
    expect(nextAlarm(memory, input(0.85)).alarm?.kind).toBe('flame-lost');
  });
  it('says that gas may flow, not that it does', () => {
    const words = alarmFault({ kind: 'flame-lost', sinceS: 0, gasUnseen: true }).message;
    expect(words).toContain('gas may be flowing');
    expect(words).toContain('Shut the gas now');
  });
});

describe('what is no danger without a manometer', () => {
  it('a flame that goes out as the wired valve shuts', () => {
    expect(kinds(alarmsOf(unseen, (nowS) => nowS >= 10 && nowS < 39.9))).toEqual([undefined]);
  });
  it('a manometer that fails after gas was seen shut', () => {
    const story: Story = {
      seconds: 70,
      pressure: (t) => (t < 30 ? openedAt10(t) : t < 40 ? towards(3, 0.2, 0.2, t, 30) : undefined),
      signal: (t) => (t < 30.3 ? litAt11(t) : towards(5, 0.02, 0.6, t, 30.3)),
    };
    expect(kinds(alarmsOf(story))).toEqual([undefined]);
  });
  it('a pulse of a self-checking detector', () => {
    const signal = (t: number) => {
      const since = t > 20 ? (t - 20) % 8 : 8;
      return since < 0.4 ? towards(5, 0.02, 0.15, since, 0) : towards(0.4, litAt11(t), 0.15, since, 0.4);
    };
    expect(kinds(alarmsOf({ ...unseen, signal }))).toEqual([undefined]);
  });
  it('a bench without any manometer', () => {
    expect(kinds(alarmsOf({ ...unseen, pressure: () => undefined }))).toEqual([undefined]);
  });
});

it('unlit gas over which the manometer fails is an alarm once the trial of 10 s is over', () => {
  const told = alarmsOf({ ...unseen, pressure: (t) => (t < 14 ? openedAt10(t) : undefined), signal: () => 0.02 });
  const first = told.find(({ alarm }) => alarm)!;
  expect(first.alarm).toBe('gas-unlit');
  expect(first.nowS).toBeGreaterThan(20);
  expect(first.nowS).toBeLessThanOrEqual(30);
});

it('a valve that did not shut is no shut gas when the manometer fails', () => {
  const story: Story = { ...unseen, pressure: (t) => (t < 50 ? openedAt10(t) : undefined) };
  const told = alarmsOf(story, (nowS) => nowS >= 10 && nowS < 30);
  expect(at(told, 49).alarm).toBe('not-shut');
  expect(at(told, 69).alarm).toBe('not-shut');
});

describe('a flame lost unseen at a low pressure, the fan-only pressure not known', () => {
  // Turned down from 1.7 to 0.88 inH2O while the signal meter is silent, from 30 s to 60 s; dark when it is back, and gas on for minutes.
  const story: Story = {
    seconds: 240,
    pressure: (t) => {
      if (t < 10) return 0.17;
      return t < 30 ? towards(0.17, 1.7, 0.15, t, 10) : Math.max(0.88, 1.7 - 0.05 * (t - 30));
    },
    signal: (t) => (t < 30 ? litAt11(t) : t < 60 ? undefined : 0.02),
  };
  it('is never called shut gas because it lasts', () => {
    const { spans } = trackCapture(captureOf(readingsOf(story)), {});
    expect(spans.filter(({ gas, to_s }) => gas === 'shut' && to_s > 30)).toEqual([]);
    const told = alarmsOf(story).filter(({ nowS }) => nowS > 63);
    expect(new Set(told.map(({ now }) => now.moment.gas))).toEqual(new Set(['flowing']));
    expect(kinds(told)).toEqual(['flame-lost']);
  });
  it('nor is gas that was never lit', () => {
    const unlit = { ...story, signal: () => 0.02 };
    const { spans } = trackCapture(captureOf(readingsOf(unlit)), {});
    expect(spans.filter(({ gas, to_s }) => gas === 'shut' && to_s > 30)).toEqual([]);
    expect(at(alarmsOf(unlit), 239).alarm).toBe('gas-unlit');
  });
});

describe('a signal meter that froze on a full signal while the gas was shut', () => {
  // Frozen from 20 s; gas shut at 40 s and seen to be; the meter comes back dark at 55 s.
  const shutAt40 = (t: number) => (t < 10 || t >= 40 ? towards(3, 0, 0.2, t, 40) * (t < 10 ? 0 : 1) : openedAt10(t));
  const readings = readingsOf({ seconds: 70, pressure: shutAt40, signal: litAt11 }).flatMap((each, i) => {
    if (each.role === 'flame_signal') {
      if (each.elapsedS < 20) return [each];
      return [{ ...each, value: each.elapsedS < 55 ? 4.9 : towards(4.9, 0.02, 0.2, each.elapsedS, 55) }];
    }
    const value = each.elapsedS > 43 ? 0.01 * ((i % 3) - 1) : each.value;
    return [{ ...each, value }];
  });
  it('leaves the manometer its word, and is no lost flame when it comes back dark', () => {
    const told = follow(readings, 70);
    expect(kinds(told)).toEqual([undefined]);
    expect(at(told, 50).now.moment).toMatchObject({ gas: 'shut', flame: 'unknown' });
    expect(at(told, 65).now.moment).toMatchObject({ gas: 'shut' });
  });
});
