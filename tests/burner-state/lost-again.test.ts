import { describe, expect, it } from 'vitest';
import { unlitSeconds } from '../../shared/burner-state/unlit-time.ts';
import { at, follow, litAt11, openedAt10, readingsOf, towards } from './story.ts';

/** Burns from 11 s at 5 V, gas on throughout; dark between the times of each pair, seconds. */
const darkIn = (spans: readonly [number, number][], seconds = 90) =>
  follow(
    readingsOf({
      seconds,
      pressure: openedAt10,
      signal: (t) => {
        let value = litAt11(t);
        for (const [fromS, toS] of spans) {
          if (t >= fromS) value = towards(5, 0.02, 0.6, t, fromS);
          if (t >= toS) value = towards(0.02, 5, 0.6, t, toS);
        }
        return value;
      },
    }),
    seconds,
  );
const countedS = (told: ReturnType<typeof darkIn>, s: number): number => unlitSeconds(at(told, s).raised!, s);

describe('a flame that comes back by itself over unburned gas', () => {
  it('leaves the alarm on, counts the dark and not the time since', () => {
    const told = darkIn([[30, 44]]);
    expect(at(told, 80).alarm).toBe('flame-lost');
    // From the fall of the signal to its return: the meter's lag moves both.
    expect(countedS(told, 80)).toBeGreaterThan(12);
    expect(countedS(told, 80)).toBeLessThan(16);
    expect(countedS(told, 80)).toBe(countedS(told, 60));
    expect(at(told, 80).raised?.count).toBe(1);
  });

  it('and is lost again raises another alarm, with its own counter', () => {
    const told = darkIn([
      [30, 36],
      [60, 200],
    ]);
    expect(at(told, 55).raised?.count).toBe(1);
    const second = told.find(({ raised }) => raised?.count === 2);
    expect(second?.alarm).toBe('flame-lost');
    expect(second!.nowS).toBeGreaterThan(60);
    expect(second!.nowS).toBeLessThanOrEqual(62);
    expect(countedS(told, 70)).toBeGreaterThan(7);
    expect(countedS(told, 70)).toBeLessThan(11);
    expect(at(told, 89).raised?.count).toBe(2);
  });

  it.each([3, 4])('for %d s, and was said to be back, raises another alarm with its own counter too', (seconds) => {
    const told = darkIn([
      [30, 36],
      [36 + seconds, 200],
    ]);
    const saidBack = told.filter(({ raised }) => raised?.unlitToS !== undefined);
    expect(saidBack.length).toBeGreaterThan(0);
    const second = told.find(({ raised }) => raised?.count === 2);
    expect(second?.alarm).toBe('flame-lost');
    expect(second!.nowS).toBeLessThanOrEqual(36 + seconds + 2);
    expect(second!.nowS).toBeGreaterThan(saidBack.at(-1)!.nowS);
    expect(countedS(told, 46 + seconds)).toBeGreaterThan(7);
    expect(countedS(told, 46 + seconds)).toBeLessThan(11);
  });

  it('and is lost again and again sounds each time that it was said to be back', () => {
    const told = darkIn([
      [30, 36],
      [40, 46],
      [49, 55],
      [59, 200],
    ]);
    const saidBack = told.filter(({ raised }) => raised?.unlitToS !== undefined);
    expect(new Set(saidBack.map(({ raised }) => raised?.count))).toEqual(new Set([1, 2, 3]));
    expect(at(told, 80).raised?.count).toBe(4);
  });

  it('for a moment only is the same loss, and its counter goes on', () => {
    const told = darkIn([
      [30, 36],
      [38, 200],
    ]);
    expect(at(told, 80).raised?.count).toBe(1);
    expect(countedS(told, 80)).toBeGreaterThan(46);
    expect(countedS(told, 80)).toBeLessThan(51);
  });
});

it('a flame that is lost over a valve that does not shut sounds again, and stays that', () => {
  const signal = (t: number) => (t < 60 ? litAt11(t) : towards(5, 0.02, 0.6, t, 60));
  const valve = (nowS: number) => nowS >= 10 && nowS < 30;
  const told = follow(readingsOf({ seconds: 75, pressure: openedAt10, signal }), 75, valve);
  expect(at(told, 55).raised).toMatchObject({ kind: 'not-shut', count: 1 });
  expect(at(told, 65).raised).toMatchObject({ kind: 'not-shut', count: 2 });
});

it('gas that is unlit beyond the trial time is counted from its first moment', () => {
  const told = follow(readingsOf({ seconds: 40, pressure: openedAt10, signal: () => 0.02 }), 40);
  const first = told.find(({ alarm }) => alarm === 'gas-unlit')!;
  expect(unlitSeconds(first.raised!, first.nowS)).toBeGreaterThan(10);
  expect(unlitSeconds(first.raised!, first.nowS)).toBeLessThan(12);
});
