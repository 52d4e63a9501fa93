import { describe, expect, it } from 'vitest';
import { pressuresWhileUnclear } from '../../../shared/analysis/sweep/series/pairs.ts';
import { pressureGrid } from '../../../shared/analysis/sweep/series/pressure-grid.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { type Draws, families } from '../../benchmark/wild/families.ts';
import { turn } from '../../benchmark/wild/hand.ts';
import { type Facts, readingsOf } from '../../benchmark/wild/simulate.ts';
import { answer } from '../answer.ts';

/** Turned at `speed`, in inH2O a second, from 2.6 down to 0.85, up to 4.6 and back, by meters of a few readings a second. */
function fastSweep(seed: number, speed: number) {
  const random = createRandom(seed);
  const between = (a: number, b: number) => a + (b - a) * random.uniform();
  const draws: Draws = { random, between, oneOf: (values) => values[0]! };
  const facts: Facts = {
    family: families.logistic,
    x: [0.02, 4.5, 1.25, 0.08, 4.1, 0.12],
    deadS: 0.2,
    lagS: between(0.4, 1.5),
    secondLagS: 0,
    manometerS: 0.1,
    white: 0.01,
    flicker: 0.05,
    manometerNoise: 0.003,
    pressureHz: between(2, 6),
    signalHz: between(2, 6),
    pressureDigit: 0.01,
    signalDigit: 0.01,
    outs: [],
  };
  const path = turn({ legs: [2.6, 0.85, 4.6, 2.6], speed, style: 'even', restS: between(0, 3), back: 0 }, draws);
  const readings = readingsOf(facts, path, draws);
  return { id: 'fast', meters: [], setup: {}, readings, lines: [], marks: [], trials: [], notes: [] };
}

describe('a sweep turned so fast that a shut valve cannot be ruled out', () => {
  it('never calls a pressure the lowest tested one where it went lower', () => {
    for (const speed of [0.5, 0.8])
      for (let seed = 1; seed <= 12; seed += 1) {
        const { window, warnings } = answer(fastSweep(seed, speed)).result;
        const said = warnings.find(({ code }) => code === 'low-end-not-reached');
        // Most such sweeps show both ends.
        if (said) expect(said.message).toMatch(/^The low end is not known: the sweep went down to 0\.8\d inH2O/);
        else expect(window.low!.cause).toBe('signal');
      }
  });
});

describe('pressures while it is not known whether a flame burned', () => {
  // Down from 3 to 1 within 10 s and up again.
  const time = Float64Array.from({ length: 101 }, (_, i) => i / 5);
  const grid = pressureGrid({ time, value: time.map((t) => 1 + Math.abs(t - 10) / 5) }, 0.2);
  it('reach from a second before such a moment to the next reading that counts', () => {
    const [low, high] = pressuresWhileUnclear(grid, [6], Float64Array.of(1, 5, 15))!;
    expect(low).toBeCloseTo(1, 1);
    expect(high).toBeCloseTo(2, 1);
  });
  it('are none where there is no such moment', () => {
    expect(pressuresWhileUnclear(grid, [], Float64Array.of(1, 5))).toBeUndefined();
  });
});
