import { describe, expect, it } from 'vitest';
import type { Reading, Role } from '../../../shared/model/reading.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { captureOf, follow, openedAt10, towards } from '../story.ts';

/** Lit at 11 s to 4 V, ten readings of the signal a second; the meter's noise, V, is the same with a flame and without one. */
function noisyReadings(noise: number, seed: number): Reading[] {
  const random = createRandom(seed);
  const readings: Reading[] = [];
  const add = (role: Role, unit: Reading['unit'], elapsedS: number, value: number) =>
    readings.push({ role, unit, elapsedS, value, raw: String(value) });
  for (let i = 0; i < 600; i += 1) {
    const t = i / 10;
    if (i % 2 === 0) add('pilot_pressure', 'inH2O', t, openedAt10(t) + 0.01 * random.normal());
    add('flame_signal', 'V', t + 0.05, towards(0.05, 4, 0.6, t, 11) + noise * random.normal());
  }
  return readings;
}

// Noise of a twentieth to a tenth of the plateau; such a flame may be called unsteady, but nothing else.
describe.each([0.2, 0.25, 0.3, 0.4])('a flame of 4 V behind a meter with noise of %f V', (noise) => {
  it.each([1, 2, 3, 4, 5, 6])('is seen to burn, live and with hindsight, run %d', (seed) => {
    const readings = noisyReadings(noise, seed);
    const burns = (flame: string) => flame === 'burning' || flame === 'unsteady';
    const told = follow(readings, 60).filter(({ now }) => now.atS > 16);
    expect(told.filter(({ now }) => !burns(now.moment.flame)).map(({ nowS }) => nowS)).toEqual([]);
    expect(told.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
    const { spans } = trackCapture(captureOf(readings), {});
    expect(spans.filter(({ from_s, flame }) => from_s > 16 && !burns(flame))).toEqual([]);
  });
});
