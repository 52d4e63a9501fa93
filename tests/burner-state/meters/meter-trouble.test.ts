import { describe, expect, it } from 'vitest';
import { createMeterWatch } from '../../../shared/burner-state/meters/meter-trouble.ts';
import { createRandom } from '../../../shared/numerics/random.ts';

const stepS = 0.15;
interface Stretch {
  seconds: number;
  /** What it would show without noise and digits, at seconds of the stretch. */
  at?: (t: number) => number;
  /** It repeats its last value. */
  frozen?: true;
}

/** A meter of this noise and last digit, and for each stretch how long after its beginning it was called frozen; undefined where it was not. */
function watched(stretches: Stretch[], noise: number, digit: number, seed = 1): (number | undefined)[] {
  const random = createRandom(seed);
  const watch = createMeterWatch();
  let t = 0;
  let shown = 0;
  return stretches.map(({ seconds, at, frozen }) => {
    let calledS: number | undefined;
    const fromS = t;
    for (; t < fromS + seconds; t += stepS) {
      if (!frozen) shown = Math.round((at!(t - fromS) + noise * random.normal()) / digit) * digit;
      watch.reading(t, shown);
      // What a frozen stretch leaves behind is gone with the next reading.
      if (t > fromS && watch.trouble(t)?.kind === 'frozen') calledS ??= t - fromS;
    }
    return calledS;
  });
}
const rests =
  (level: number) =>
  (_: number): number =>
    level;

describe('a meter that dithers', () => {
  it('is called frozen soon, as often as it freezes', () => {
    for (const seed of [1, 2, 3]) {
      const found = watched(
        [
          { seconds: 10, at: rests(0) },
          { seconds: 40, at: rests(2.8) },
          ...[15, 10, 38, 60, 17].flatMap((seconds): Stretch[] => [
            { seconds, frozen: true },
            { seconds: 15, at: rests(2.8) },
          ]),
        ],
        0.004,
        0.001,
        seed,
      );
      for (const k of [2, 4, 6, 8, 10]) expect(found[k]).toBeLessThan(9.5);
      for (const k of [0, 1, 3, 5, 7, 9, 11]) expect(found[k]).toBeUndefined();
    }
  });
  it('at rest for an hour is never called frozen', () => {
    for (const seed of [1, 2, 3, 4])
      for (const noise of [0.3, 0.5, 1, 3])
        expect(watched([{ seconds: 3600, at: rests(2.7834) }], noise * 0.01, 0.01, seed)).toEqual([undefined]);
  });
});

describe('a meter with digits coarser than its noise', () => {
  // Shut, opened, turned down, and at rest amid a digit: it moved whenever it was seen to move.
  const turnedDown: Stretch[] = [
    { seconds: 20, at: rests(0) },
    { seconds: 15, at: (t) => 2.8 - 0.04 * t },
    { seconds: 300, at: rests(2.2) },
    { seconds: 20, at: (t) => 2.2 + 0.06 * t },
    { seconds: 120, at: rests(3.401) },
  ];
  it.each([1, 2, 3])('at rest shows one number for minutes, seed %i', (seed) => {
    expect(watched(turnedDown, 0.0008, 0.01, seed)).toEqual(turnedDown.map(() => undefined));
  });
  it('is not called frozen at rest because it dithered twice before', () => {
    const steps: Stretch[] = [
      { seconds: 12, at: rests(0) },
      { seconds: 16, at: (t) => (Math.abs(t - 7) < 0.1 || Math.abs(t - 13) < 0.1 ? 2.48 : 2.5) },
      ...[2.3, 2.1, 1.9, 1.7].map((level): Stretch => ({ seconds: 18, at: rests(level) })),
    ];
    expect(watched(steps, 0.0005, 0.02)).toEqual(steps.map(() => undefined));
  });
});

describe('a meter that shows dashes', () => {
  const dashed = (seconds: number) => {
    const watch = createMeterWatch();
    for (let t = 0; t < 20; t += stepS) watch.reading(t, 2 + 0.01 * Math.sin(9 * t));
    for (let t = 20; t < 20 + seconds; t += stepS) watch.reading(t, Number.NaN);
    return watch.trouble(20 + seconds);
  };
  it('for some tenths of a second changes its range', () => expect(dashed(0.6)).toBeUndefined());
  it('for seconds has no number, from the first of them on', () =>
    expect(dashed(4)).toEqual({ kind: 'no-number', sinceS: 20 }));
});
