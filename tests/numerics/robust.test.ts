import { describe, expect, it } from 'vitest';
import { createRandom } from '../../shared/numerics/random.ts';
import { trimmedDeviation } from '../../shared/numerics/robust.ts';

const random = createRandom(3);
const normal = (sd: number) => Float64Array.from({ length: 40_000 }, () => sd * random.normal());

describe('the scatter by the smallest four fifths of the deviations', () => {
  it('is the standard deviation of normal noise', () => {
    // The scale from 40,000 of them has a standard error of about 0.5 %.
    for (const sd of [0.2, 3]) expect(Math.abs(trimmedDeviation(normal(sd)) / sd - 1)).toBeLessThan(0.02);
  });
  it('follows readings that step by up to all of it as rounding adds to their variance (Sheppard 1898)', () => {
    for (const digit of [0.1, 0.3, 0.5, 1]) {
      const rounded = normal(1).map((value) => digit * Math.round((value + 0.3 * digit) / digit) - 0.3 * digit);
      const wanted = Math.sqrt(1 + digit ** 2 / 12);
      expect(Math.abs(trimmedDeviation(rounded) / wanted - 1), `digit ${digit}`).toBeLessThan(0.1);
    }
  });
  it('hardly changes where one reading in ten is a gust', () => {
    const gusts = normal(1).map((value, i) => (i % 10 === 0 ? 20 * value : value));
    expect(trimmedDeviation(gusts)).toBeLessThan(1.25);
  });
  it('is that of a single deviation, and zero where nothing deviates', () => {
    expect(trimmedDeviation(new Float64Array(9))).toBe(0);
    expect(trimmedDeviation(Float64Array.of(-1))).toBeCloseTo(1 / 0.55861, 4);
  });
});
