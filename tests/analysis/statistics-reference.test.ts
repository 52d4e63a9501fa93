import { describe, expect, it } from 'vitest';
import { lowerBound, upperBound } from '../../shared/analysis/binomial.ts';
import { chiSquareQuantile, normalQuantile, studentQuantile } from '../../shared/analysis/distributions.ts';
import published from '../reference/binom-published.json' with { type: 'json' };
import quantiles from '../reference/quantiles-normal-t-chi2.json' with { type: 'json' };

describe('binomial bounds', () => {
  const rows = published.inputs.rows.map((row, i) => ({ ...row, ...published.expected.rows[i]! }));
  // Sources: NIST/SEMATECH e-Handbook 7.2.4.1; R 4.2.2 binom.test (Conover 1971); Newcombe 1998, Stat. Med. 17, 857, table I.
  // Printed values from memory, then computed with SciPy, as the file says row by row.
  it.each(rows.filter((row) => row.method === 'clopper_pearson'))('$k of $n: $src', ({ k, n, conf, computed }) => {
    const each = (1 + conf) / 2;
    expect(Math.abs((k === 0 ? 0 : lowerBound(k, n, each)) - computed[0]!)).toBeLessThan(1e-10);
    expect(Math.abs(upperBound(k, n, each) - computed[1]!)).toBeLessThan(1e-10);
  });

  it('ten of ten prove 74 % at 95 % confidence', () => {
    // Closed form for no failures: 0.05^(1/10) (Clopper and Pearson 1934).
    expect(lowerBound(10, 10, 0.95)).toBeCloseTo(0.05 ** 0.1, 10);
  });
});

// Source: mpmath at 40 digits, anchors as in any printed table; tests/reference/quantiles-normal-t-chi2.json.
describe('quantiles', () => {
  const near = (ours: number, theirs: number) =>
    expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(1e-9 * Math.max(1e-3, Math.abs(theirs)));

  it.each(quantiles.expected.normal)('normal at $p', ({ p, z }) => near(normalQuantile(p), z));
  it.each(quantiles.expected.t)('Student at $p with $dof degrees', ({ p, dof, t }) => near(studentQuantile(p, dof), t));
  it.each(quantiles.expected.chi2)('chi-square at $p with $dof degrees', ({ p, dof, x }) =>
    near(chiSquareQuantile(p, dof), x),
  );
});
