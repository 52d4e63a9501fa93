import { describe, expect, it } from 'vitest';
import type { Capture } from '../../shared/model/capture.ts';
import { answer } from './answer.ts';
import { createRandom } from '../../shared/numerics/random.ts';
import { downAndUp, sweepWith } from './synthetic-sweep.ts';

const resultOf = (capture: Capture) => answer(capture).result;
const codes = (result: ReturnType<typeof resultOf>) => result.warnings.map(({ code }) => code);

describe('a signal that shows no flame', () => {
  it.each([0, -0.01])('gives no window where the meter stands at %d V', (level) => {
    const result = resultOf(sweepWith(() => level));
    expect(result.signalInterval.status).toBe('none');
    expect(result.setPoint).toBeUndefined();
    expect(codes(result)).toContain('signal-not-positive');
  });

  it.each([1, 2, 3, 4, 5, 6])('gives no end in the noise of a dark detector, seed %i', (seed) => {
    const random = createRandom(100 + seed);
    const noise = () => Math.round((0.02 + 0.01 * random.normal()) * 1000) / 1000;
    const result = resultOf(sweepWith(noise, { seed }));
    expect(result.signalInterval).toEqual({ status: 'none' });
    expect(codes(result)[0]).toBe('no-flame-response');
  });

  it.each([1, 2, 3, 4, 5, 6])('gives no end in the glow of a hot refractory, which changes twice, seed %i', (seed) => {
    const random = createRandom(200 + seed);
    const glows = (_: number, t: number) => (t < 60 ? 0.3 : t < 135 ? 0.45 : 0.4) + 0.02 * random.normal();
    const result = resultOf(sweepWith((p, t) => Math.round(glows(p, t) * 1000) / 1000, { seed, stepS: 0.2 }));
    expect(result.signalInterval).toEqual({ status: 'none' });
    expect(result.setPoint).toBeUndefined();
  });

  it('says of no glow that a flame burned on while gas was shut', () => {
    const random = createRandom(300);
    // Shut for 20 s at each end.
    const pressureAt = (t: number) => (t < 20 || t > 220 ? 0 : downAndUp(t - 20));
    const glows = (_: number, t: number) => Math.round((t < 80 ? 300 : 450) + 20 * random.normal()) / 1000;
    expect(codes(resultOf(sweepWith(glows, { pressureAt, lastS: 240, stepS: 0.2 })))).not.toContain('manometer-off');
  });
});
