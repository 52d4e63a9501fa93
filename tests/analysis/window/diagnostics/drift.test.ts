import { describe, expect, it } from 'vitest';
import { proveLightOff } from '../../../../shared/analysis/light-off-proof.ts';
import { study } from '../../../../shared/analysis/study.ts';
import { warningsFor } from '../../../../shared/analysis/warnings/warnings-for.ts';
import type { Capture } from '../../../../shared/model/capture.ts';
import { drawSweep, type Kind } from '../../../benchmark/sweep/kinds.ts';
import { answer } from '../../answer.ts';
import { drawWildSweep } from '../../../benchmark/wild/kinds.ts';
import { holds, widthOf } from '../../interval-width.ts';

const lastTime = (capture: Capture) => Math.max(...capture.readings.map((reading) => reading.elapsedS));

/** The same sweep with a detector whose signal grows evenly, by `byV` over the whole of it. */
const drifting = (capture: Capture, byV: number): Capture => ({
  ...capture,
  readings: capture.readings.map((reading) =>
    // A dark detector does not drift: the growth goes with the light it receives.
    reading.role === 'flame_signal' && reading.value > 1
      ? { ...reading, value: reading.value + (byV * reading.elapsedS) / lastTime(capture) }
      : reading,
  ),
});

const studied = (capture: Capture) => {
  const outcome = study(capture, capture.setup);
  if (!outcome.ok) throw new Error(outcome.fault.message);
  const { drift } = outcome.value;
  const warnings = warningsFor(outcome.value, undefined, proveLightOff(outcome.value, undefined));
  return { drift, warning: warnings.find(({ code }) => code === 'signal-drifts')?.message };
};

/** A sweep that drifts, with what is found of it. */
const drifts = [1, 2, 3, 4].flatMap((seed) =>
  [0.4, -0.4].map((byV) => {
    const { capture, facts } = drawSweep('two shoulders', seed);
    return { seed, byV, capture, facts, ...studied(drifting(capture, byV)) };
  }),
);

// Invented sweeps: the truth is the drift that was added.
describe('drift of the plateau signal', () => {
  it.each(drifts)(
    'finds a drift of $byV V, in size and direction, seed $seed',
    ({ byV, capture, facts, drift, warning }) => {
      // It is given from the first to the last moment on the plateau.
      const added = (byV * drift!.overS) / lastTime(capture);
      // Standard error of a straight line's rise over n readings of deviation s: s sqrt(12 / n) (textbook least squares). Here
      // s is the white noise with its last digit, and n the readings on the plateau, where there is no flicker. Comparing
      // within slices of pressure costs part of the time's variance, so twice that; and three of them miss one in 370.
      const { amplitude, dark } = facts.curve;
      const onPlateau = capture.readings.filter(
        ({ role, value }) => role === 'flame_signal' && value > dark + 0.97 * amplitude,
      ).length;
      const error = Math.hypot(facts.white, facts.digits.signal / Math.sqrt(12)) * Math.sqrt(12 / onPlateau);
      expect(Math.abs(drift!.change - added)).toBeLessThan(3 * 2 * error);
      expect(drift!.confidence).toBe(0.99);
      // Narrow enough to tell the drift from the fifth of the drop of a tenth at which it is reported.
      expect(widthOf(drift!.ci)).toBeLessThan((0.1 * amplitude) / 5);
      expect(warning).toContain(
        `drifted by ${drift!.change > 0 ? '+' : '-'}${Math.abs(drift!.change).toFixed(2)} V in`,
      );
    },
  );

  it('has 99 % intervals that hold the drift that was added', () => {
    const held = drifts.map(({ capture, byV, drift }) => holds(drift!.ci, (byV * drift!.overS) / lastTime(capture)));
    // Seven of eight: fewer has a chance of 1 in 380 when 99 in 100 hold (binomial).
    expect(held.filter(Boolean).length).toBeGreaterThanOrEqual(7);
  });

  it('is not reported of sweeps that do not drift, nor of a plateau that slopes with the pressure', () => {
    const kinds: Kind[] = ['two shoulders', 'stairs', 'slow sag', 'noisy', 'clipped', 'self-check'];
    const alarms = kinds.flatMap((kind) =>
      [1, 2, 3].filter((seed) => studied(drawSweep(kind, seed).capture).warning).map((seed) => `${kind} ${seed}`),
    );
    expect(alarms).toEqual([]);
  }, 60_000);

  it('is not claimed from a sweep in one direction, where time and pressure are one', () => {
    for (const seed of [1, 2])
      expect(studied(drifting(drawSweep('up only', seed).capture, 0.4)).warning).toBeUndefined();
  });
});

// A detector that shows up to 2 % less at first; the plateau is that of a warm one. Intervals that knew of no drift held 8 of these 12.
it('is part of the interval of the plateau', () => {
  const held = Array.from({ length: 12 }, (_, k) => drawWildSweep('a signal that drifts a little', 601 + k)).filter(
    ({ capture, truth }) => {
      const [low, high] = answer(capture).result.plateau.ci;
      return low <= truth.plateau && truth.plateau <= high;
    },
  );
  // Fewer than 10 of 12 come in one of fifty draws where each is held with 95 %.
  expect(held.length).toBeGreaterThanOrEqual(10);
}, 60_000);
