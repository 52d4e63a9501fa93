import { describe, expect, it } from 'vitest';
import type { Capture } from '../../shared/model/capture.ts';
import { answer } from './answer.ts';
import { createRandom } from '../../shared/numerics/random.ts';
import { sweepWith } from './synthetic-sweep.ts';

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
});
