import { describe, expect, it } from 'vitest';
import { adjustmentTo, isSteady } from '../../renderer/set/adjustment.ts';

describe('the adjustment', () => {
  it('says to turn in when the pressure is too low, out when it is too high', () => {
    expect(adjustmentTo(2.0, 2.5, 'inH2O').turn).toBe('in');
    expect(adjustmentTo(3.0, 2.5, 'inH2O').turn).toBe('out');
    expect(adjustmentTo(2.0, 2.5, 'inH2O').difference).toBeCloseTo(-0.5, 12);
  });
  it('leaves it within 1 % of the target', () => {
    expect(adjustmentTo(4.96, 5, 'inH2O').turn).toBe('stay');
    expect(adjustmentTo(4.94, 5, 'inH2O').turn).toBe('in');
  });
  it('asks for no more than 0.02 inH2O at a small target, in any unit', () => {
    expect(adjustmentTo(0.515, 0.5, 'inH2O').turn).toBe('stay');
    // 0.02 x 249.08891 Pa (NIST SP 811) is 4.98 Pa.
    expect(adjustmentTo(104.9, 100, 'Pa').turn).toBe('stay');
    expect(adjustmentTo(105.1, 100, 'Pa').turn).toBe('out');
  });
});

describe('steady', () => {
  const every = (values: number[]) => ({
    elapsedS: Float64Array.from(values, (_, i) => i),
    value: Float64Array.from(values),
    length: values.length,
  });
  it('looks at the last seconds only', () => {
    expect(isSteady(every([9, 9, 2.4, 2.41, 2.4, 2.39, 2.4]), 6.5, 0.02)).toBe(true);
  });
  it('is not steady while it creeps, with a flagged reading, or with too few readings', () => {
    expect(isSteady(every([2.2, 2.25, 2.3, 2.35, 2.4]), 4, 0.02)).toBe(false);
    expect(isSteady(every([2.4, 2.4, Number.NaN, 2.4]), 3, 0.02)).toBe(false);
    expect(isSteady(every([2.4, 2.4]), 1, 0.02)).toBe(false);
  });
});
