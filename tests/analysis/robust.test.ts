import { describe, expect, it } from 'vitest';
import { isotonic, unimodal } from '../../shared/analysis/isotonic.ts';
import { hampel, median, robustDeviation } from '../../shared/analysis/robust.ts';
import { apart, reference } from './reference.ts';

describe('the Hampel filter', () => {
  type Found = { outlier_index_0based_truncated_window: number[]; replacement_values_truncated: number[] };
  const { inputs, expected } = reference<{ x: number[]; t0: number }, Record<string, Found>>('hampel');
  it.each([3, 5, 20])('finds what R pracma finds, %i readings each side', (half) => {
    const found = hampel(Float64Array.from(inputs.x), half, inputs.t0);
    const { outlier_index_0based_truncated_window: index, replacement_values_truncated: medians } =
      expected[`k${half}`]!;
    expect(found.map((one) => one.index)).toEqual(index);
    expect(
      apart(
        found.map((one) => one.median),
        medians,
      ),
    ).toBeLessThan(1e-12);
  });
});

describe('robust location and scale', () => {
  it('agree with R on the copper analyses of the Analytical Methods Committee 1989', () => {
    type Chem = { chem: { median: number; mad: number } };
    const { inputs, expected } = reference<{ chem: number[] }, Chem>('robust-location-scale');
    const chem = Float64Array.from(inputs.chem);
    expect(median(chem)).toBeCloseTo(expected.chem.median, 12);
    // R multiplies by 1.4826, this by the exact 1.482602...
    expect((robustDeviation(chem) * 1.4826) / 1.482602218505602).toBeCloseTo(expected.chem.mad, 9);
  });
});

describe('isotonic regression', () => {
  type Weighted = { y: number[]; w: number[] };
  const { inputs, expected } = reference<
    { unweighted: number[]; weighted: Weighted },
    { unweighted: number[]; weighted: number[] }
  >('isotonic');
  const ones = (n: number) => new Float64Array(n).fill(1);

  it('gives what R isoreg gives, plain and weighted', () => {
    const plain = isotonic(Float64Array.from(inputs.unweighted), ones(inputs.unweighted.length));
    expect(apart(plain, expected.unweighted)).toBeLessThan(1e-12);
    const weighted = isotonic(Float64Array.from(inputs.weighted.y), Float64Array.from(inputs.weighted.w));
    expect(apart(weighted, expected.weighted)).toBeLessThan(1e-12);
  });

  it('leaves a curve that rises and then falls as it is, when it may do both', () => {
    const hill = Float64Array.of(0, 1, 3, 3, 2, -1);
    expect([...unimodal(hill, ones(6))]).toEqual([...hill]);
  });
});
