import { describe, expect, it } from 'vitest';
import { bestSegments, changePoint } from '../../shared/analysis/change-point.ts';
import { reference } from './reference.ts';

// Sources: Cobb 1978, Biometrika 65, 243; Zeileis et al. 2003, CSDA 44, 109 (one break, after 1898; from memory); computed
// with R strucchange. Its runs hold at least 15 % of the values.
describe('the change of the Nile at Aswan', () => {
  type Expected = {
    last_index_of_first_segment_1based: number;
    mean_before: number;
    mean_after: number;
    rss_0_breaks: number;
    rss_1_break: number;
    bic_by_breaks: number[];
    supF: number;
  };
  const { inputs, expected } = reference<{ flow: number[] }, Expected>('changepoint-nile');
  const flow = Float64Array.from(inputs.flow);
  const near = (found: number, wanted: number, within: number) =>
    expect(Math.abs(found / wanted - 1)).toBeLessThan(within);

  it('comes after 1898, from one level to the other', () => {
    const found = changePoint(flow, 15)!;
    expect(found.start).toBe(expected.last_index_of_first_segment_1based);
    near(found.before, expected.mean_before, 1e-12);
    near(found.after, expected.mean_after, 1e-12);
    near(found.squares, expected.rss_1_break, 1e-10);
    near(found.f, expected.supF, 1e-8);
  });

  it('leaves the squares of R for no break up to five', () => {
    const found = bestSegments(flow, 5, 15);
    near(found[0]!.squares, expected.rss_0_breaks, 1e-10);
    expect(found[1]!.starts).toEqual([expected.last_index_of_first_segment_1based]);
    const n = flow.length;
    found.forEach(({ squares, starts }, breaks) => {
      expect(starts).toHaveLength(breaks);
      // Schwarz's criterion of a normal series, two parameters a run, as strucchange counts.
      const bic = n * (Math.log(squares / n) + 1 + Math.log(2 * Math.PI)) + 2 * (breaks + 1) * Math.log(n);
      near(bic, expected.bic_by_breaks[breaks]!, 1e-10);
    });
  });
});

it('too few values have no change', () => {
  expect(changePoint(Float64Array.of(1, 2, 3), 2)).toBeUndefined();
  expect(bestSegments(Float64Array.of(1, 2, 3), 2, 2)).toHaveLength(1);
});
