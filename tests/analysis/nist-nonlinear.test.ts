import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { leastSquares } from '../../shared/analysis/least-squares.ts';

interface NistSet {
  name: string;
  source: string;
  inputs: {
    model: string;
    start1: number[];
    start2: number[];
    x?: number[];
    x1?: number[];
    x2?: number[];
    y: number[];
  };
  expected: { params: number[]; std_errors: number[]; rss: number };
  tolerance: { params_rel: number; std_errors_rel: number | null };
}

const folder = join(import.meta.dirname, '..', 'reference');
const sets = readdirSync(folder)
  .filter((file) => file.startsWith('nist-nls-'))
  .map((file) => JSON.parse(readFileSync(join(folder, file), 'utf8')) as NistSet);

/** The model as the data set writes it, e.g. b1*(1-exp(-b2*x)). The file is a part of the tests, so it may be run. */
function modelOf(text: string, parameters: number): (b: Float64Array, x: number[]) => number {
  const names = Array.from({ length: parameters }, (_, i) => `b${i + 1}`);
  const body = text
    .replace(/\(response.*\)/, '')
    .replace(/-\(\((x-b\d)\)\/(b\d)\)\^2/g, '-((($1)/$2)^2)')
    .replace(/\^/g, '**')
    .replace(/\b(exp|cos|sin|arctan|atan)\b/g, (word) => `Math.${word === 'arctan' ? 'atan' : word}`)
    .replace(/\bpi\b/g, 'Math.PI');
  const two = /\bx1\b/.test(body) ? ['x1', 'x2'] : ['x'];
  // oxlint-disable-next-line no-new-func, no-implied-eval
  const run = new Function(...two, ...names, `return ${body}`) as (...args: number[]) => number;
  return (b, x) => run(...x, ...b);
}

const close = (ours: ArrayLike<number>, theirs: number[], relative: number) =>
  theirs.every((value, i) => Math.abs(ours[i]! - value) <= relative * Math.abs(value));

// Source: NIST Statistical Reference Datasets, Nonlinear Regression; each set names its own origin in its file.
describe('least squares on the NIST nonlinear sets', () => {
  it('has all 27 of them', () => expect(sets).toHaveLength(27));

  const cases = sets.flatMap((set) =>
    ([1, 2] as const).map((start) => ({ set, start, name: set.name.split(': ')[1] })),
  );
  it.each(cases)('$name from start $start: the certified values, or said not to have converged', ({ set, start }) => {
    const { inputs, expected, tolerance } = set;
    // Nelson's response is fitted as its logarithm, as NIST does.
    const y = set.name.includes('Nelson') ? inputs.y.map(Math.log) : inputs.y;
    const at = (i: number) => (inputs.x ? [inputs.x[i]!] : [inputs.x1![i]!, inputs.x2![i]!]);
    const model = modelOf(inputs.model, expected.params.length);
    const fit = leastSquares(
      (b, into) => y.forEach((value, i) => (into[i] = value - model(b, at(i)))),
      Float64Array.from(start === 1 ? inputs.start1 : inputs.start2),
      y.length,
      { iterations: 3000, tolerance: 1e-12 },
    );
    const right = close(fit.parameters, expected.params, Math.max(tolerance.params_rel, 1e-6));
    // The first start is far off: there it may say that it did not converge. A wrong answer is never allowed.
    if (start === 2 || fit.converged) expect({ right, stop: fit.stop }).toMatchObject({ right: true });
    else expect(fit.converged).toBe(false);
    const n = expected.params.length;
    const errors = expected.std_errors.map((_, i) => Math.sqrt(fit.covariance[i * n + i]!));
    // Standard errors come from a difference Jacobian: five digits.
    if (right && tolerance.std_errors_rel !== null)
      expect(close(errors, expected.std_errors, 1e-4), String(errors)).toBe(true);
  });

  it('gives the right answer from at least 24 of the 27 far starts', () => {
    // What a plain Levenberg-Marquardt with QR and scaling reaches on these sets (common experience with MINPACK's lmder).
    const reached = sets.filter((set) => {
      const y = set.name.includes('Nelson') ? set.inputs.y.map(Math.log) : set.inputs.y;
      const at = (i: number) => (set.inputs.x ? [set.inputs.x[i]!] : [set.inputs.x1![i]!, set.inputs.x2![i]!]);
      const model = modelOf(set.inputs.model, set.expected.params.length);
      const fit = leastSquares(
        (b, into) => y.forEach((value, i) => (into[i] = value - model(b, at(i)))),
        Float64Array.from(set.inputs.start1),
        y.length,
        { iterations: 3000, tolerance: 1e-12 },
      );
      return close(fit.parameters, set.expected.params, 1e-6);
    });
    expect(reached.length).toBeGreaterThanOrEqual(24);
  });
});
