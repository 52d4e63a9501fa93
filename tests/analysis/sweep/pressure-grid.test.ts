import { describe, expect, it } from 'vitest';
import { pressureAt, pressureGrid } from '../../../shared/analysis/sweep/series/pressure-grid.ts';
import { createRandom } from '../../../shared/numerics/random.ts';

const [noise, hz, restS, turnS, sizeInH2O, seconds] = [0.004, 8, 1.5, 0.3, 0.1, 150];

/** A hand that turns by 0.1 inH2O within 0.3 s, waits 1.5 s, and so on: the pressure that is true at a moment, from its definition. */
function pressureOf(t: number): number {
  const turns = Math.floor(t / (restS + turnS));
  const into = t - turns * (restS + turnS);
  return 1 + sizeInH2O * (turns + Math.max(0, into - restS) / turnS);
}

describe('the pressure between the readings of a manometer', () => {
  const random = createRandom(7);
  const time = Float64Array.from({ length: seconds * hz }, (_, i) => i / hz);
  const value = time.map((t) => pressureOf(t) + noise * random.normal());
  const grid = pressureGrid({ time, value }, 0.1);
  const off = (t: number) => pressureAt(grid, t) - pressureOf(t);
  const meanOf = (values: number[]) => values.reduce((sum, each) => sum + each, 0) / values.length;
  const turns = Array.from({ length: 80 }, (_, k) => restS + k * (restS + turnS));

  it('follows a step: beside it, smearing takes less than half a deviation of the noise', () => {
    // A smeared step is too high just before it and too low just after, on average over many.
    const before = meanOf(turns.map((t) => off(t - 0.1)));
    const after = meanOf(turns.map((t) => off(t + turnS + 0.1)));
    expect(before).toBeLessThan(0.5 * noise);
    expect(after).toBeGreaterThan(-0.5 * noise);
  });

  it('is calmer than the readings where the pressure rests', () => {
    const rest = pressureGrid({ time, value: time.map(() => 2 + noise * random.normal()) }, 0.1);
    const square = meanOf(Array.from(rest.pressure, (p) => (p - 2) ** 2));
    expect(Math.sqrt(square)).toBeLessThan(0.5 * noise);
  });
});
