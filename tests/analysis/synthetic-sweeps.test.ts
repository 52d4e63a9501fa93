import { describe, expect, it } from 'vitest';
import { leastSquares } from '../../shared/analysis/least-squares.ts';
import { apart, reference } from './reference.ts';

interface Inputs {
  pressure_inwc: number[];
  signal_vdc: number[];
  start: number[];
}
interface Expected {
  names: string[];
  ols: { params: number[]; std_errors: number[]; rss: number };
}

const logistic = (z: number) => 1 / (1 + Math.exp(-z));

/** Plain least-squares fits of SciPy (curve_fit) to sweeps generated with NumPy; model as their files print it. */
describe('the solver on synthetic sweeps, against SciPy', () => {
  for (const name of ['clean-double', 'double-sigmoid-a', 'double-sigmoid-b-autocorrelated', 'single-sigmoid'])
    it(`${name}: same parameters and standard errors`, () => {
      const { inputs, expected, tolerance } = reference<Inputs, Expected>(`pipeline-${name}`);
      const { pressure_inwc: p, signal_vdc: s } = inputs;
      const fit = leastSquares(
        (b, into) =>
          s.forEach((value, i) => {
            const low = logistic((p[i]! - b[2]!) / b[3]!);
            const high = b.length > 4 ? logistic((b[4]! - p[i]!) / b[5]!) : 1;
            into[i] = b[1]! + b[0]! * low * high - value;
          }),
        Float64Array.from(inputs.start),
        s.length,
        { tolerance: 1e-12 },
      );
      expect(fit.converged).toBe(true);
      expect(apart(fit.parameters, expected.ols.params)).toBeLessThan(tolerance['params_rel']!);
      const n = inputs.start.length;
      const errors = inputs.start.map((_, j) => Math.sqrt(fit.covariance[j * n + j]!));
      expect(apart(errors, expected.ols.std_errors)).toBeLessThan(tolerance['std_errors_rel']!);
    });
});
