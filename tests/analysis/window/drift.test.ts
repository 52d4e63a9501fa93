import { describe, expect, it } from 'vitest';
import { proveLightOff } from '../../../shared/analysis/light-off-proof.ts';
import { study } from '../../../shared/analysis/study.ts';
import { warningsFor } from '../../../shared/analysis/warnings-for.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { drawSweep, type Kind } from '../../benchmark/sweep/kinds.ts';

/** The same sweep with a detector whose signal grows evenly, by so much over the whole of it. */
const drifting = (capture: Capture, byV: number): Capture => {
  const last = Math.max(...capture.readings.map((reading) => reading.elapsedS));
  return {
    ...capture,
    readings: capture.readings.map((reading) =>
      // A dark detector does not drift: the growth goes with the light it sees.
      reading.role === 'flame_signal' && reading.value > 1
        ? { ...reading, value: reading.value + (byV * reading.elapsedS) / last }
        : reading,
    ),
  };
};

const studied = (capture: Capture) => {
  const outcome = study(capture, capture.setup);
  if (!outcome.ok) throw new Error(outcome.fault.message);
  const { drift } = outcome.value;
  const codes = warningsFor(outcome.value, undefined, proveLightOff(outcome.value, undefined)).map(
    (warning) => warning.code,
  );
  return { drift, warned: codes.includes('signal-drifts') };
};

// Invented sweeps: the truth is the drift that was put in.
describe('drift of the plateau signal', () => {
  const seeds = [1, 2, 3, 4];

  it('finds the drift that was put in, in size and direction', () => {
    for (const seed of seeds)
      for (const byV of [0.4, -0.4]) {
        const { drift, warned } = studied(drifting(drawSweep('two shoulders', seed).capture, byV));
        const perSweep = drift!.change;
        expect(warned, `seed ${seed}, ${byV} V`).toBe(true);
        expect(perSweep / byV).toBeGreaterThan(0.6);
        expect(perSweep / byV).toBeLessThan(1.1);
      }
  }, 120_000);

  it('says nothing of sweeps that do not drift, nor of a plateau that slopes with the pressure', () => {
    const kinds: Kind[] = ['two shoulders', 'stairs', 'slow sag', 'noisy', 'clipped', 'self-check'];
    const alarms = kinds.flatMap((kind) =>
      [1, 2, 3].filter((seed) => studied(drawSweep(kind, seed).capture).warned).map((seed) => `${kind} ${seed}`),
    );
    expect(alarms).toEqual([]);
  }, 120_000);

  it('does not claim a drift from a sweep in one direction, where time and pressure are one', () => {
    for (const seed of [1, 2]) expect(studied(drifting(drawSweep('up only', seed).capture, 0.4)).warned).toBe(false);
  }, 60_000);
});
