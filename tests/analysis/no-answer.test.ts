import { describe, expect, it } from 'vitest';
import { analyze } from '../../shared/analysis/analyze.ts';
import { createRandom } from '../../shared/numerics/random.ts';
import type { Reading } from '../../shared/model/reading.ts';
import { captureOf } from '../benchmark/sweep/simulate.ts';

/** A hand that goes down and up in 200 s, and a signal that is whatever it is told; invented. */
function sweepWith(signalAt: (pressure: number) => number, seed = 1) {
  const random = createRandom(seed);
  const readings: Reading[] = [];
  for (let t = 0; t < 200; t += 0.5) {
    const pressure = 0.5 + (4.5 * Math.abs(100 - t)) / 100;
    const add = (role: Reading['role'], unit: Reading['unit'], value: number) =>
      readings.push({ role, unit, elapsedS: t, value, raw: String(value) });
    add('pilot_pressure', 'inH2O', Math.round((pressure + 0.003 * random.normal()) * 1000) / 1000);
    add('flame_signal', 'V', signalAt(pressure));
  }
  return captureOf(readings);
}

const resultOf = (capture: Parameters<typeof analyze>[0]) => {
  const outcome = analyze(capture);
  if (!outcome.ok) throw new Error(outcome.fault.message);
  return outcome.value.result;
};
const codes = (result: ReturnType<typeof resultOf>) => result.warnings.map(({ code }) => code);

describe('a signal that says nothing of the flame', () => {
  it.each([0, -0.01])('gives no window where the meter stands at %d V', (level) => {
    const result = resultOf(sweepWith(() => level));
    expect(result.signalInterval.status).toBe('none');
    expect(result.setPoint).toBeUndefined();
    expect(codes(result)).toContain('signal-not-positive');
  });

  it.each([1, 2, 3, 4, 5, 6])('finds no end in the noise of a dark detector, seed %i', (seed) => {
    const random = createRandom(100 + seed);
    const result = resultOf(sweepWith(() => Math.round((0.02 + 0.01 * random.normal()) * 1000) / 1000, seed));
    expect(result.signalInterval.status).toBe('open-both');
    expect(codes(result)).toContain('no-flame-response');
  });
});

describe('a fast step of the regulator', () => {
  it('to where a flame may still be is not taken for shut gas', () => {
    // From 4 to 1 inH2O at once, as on a coarse staircase: more than half, but far from nothing.
    const readings: Reading[] = [];
    const random = createRandom(9);
    for (let t = 0; t < 160; t += 0.25) {
      const pressure = [1, 4, 1, 2.5, 0.6, 2.5, 4.4, 2.5][Math.floor(t / 20)]!;
      const add = (role: Reading['role'], unit: Reading['unit'], value: number) =>
        readings.push({ role, unit, elapsedS: t, value, raw: String(value) });
      add('pilot_pressure', 'inH2O', pressure + 0.003 * random.normal());
      add('flame_signal', 'V', 4.6 / (1 + Math.exp((0.9 - pressure) / 0.08)) + 0.01 * random.normal());
    }
    expect(codes(resultOf(captureOf(readings)))).not.toContain('gas-shut');
  });
});

describe('light-off trials that lit at one pressure only', () => {
  it('give no window, and ask for more trials', () => {
    const sweep = sweepWith((p) => 4.6 / (1 + Math.exp((1 - p) / 0.08)) / (1 + Math.exp((p - 4) / 0.1)));
    const trial = (pressure: number, lit: boolean) => ({ pressure, unit: 'inH2O', sparkDelayS: 0, lit }) as const;
    const trials = [trial(2.5, true), trial(4.5, false), trial(0.6, false)];
    const result = resultOf({ ...sweep, trials });
    expect(result.window.status).toBe('none');
    expect(codes(result)).toContain('lit-at-one-pressure');
    expect(codes(result)).not.toContain('no-window');
  });
});
