import { aicc } from '../../shared/analysis/curve/aicc.ts';
import { type Fit, leastSquares } from '../../shared/numerics/linear/least-squares.ts';

/** A curve with parameters `b` at one `x`. */
export type Model = (b: Float64Array, x: number) => number;

/** Fits a curve to points with the product's solver and its difference Jacobian, to full precision. */
export const fitCurve = (model: Model, x: number[], y: number[], start: number[]): Fit =>
  leastSquares(
    (b, into) => y.forEach((value, i) => (into[i] = value - model(b, x[i]!))),
    Float64Array.from(start),
    y.length,
    { iterations: 3000, tolerance: 1e-12 },
  );

/** Fits a linear model: its Jacobian is the design itself, with the sign of the residuals. `weight` are square roots. */
export function fitLinear(design: number[][], y: number[], weight: number[] = y.map(() => 1)): Fit {
  const n = design[0]!.length;
  return leastSquares(
    (b, into) =>
      y.forEach((value, i) => {
        let fitted = 0;
        for (let j = 0; j < n; j += 1) fitted += design[i]![j]! * b[j]!;
        into[i] = weight[i]! * (value - fitted);
      }),
    new Float64Array(n),
    y.length,
    {
      iterations: 3000,
      tolerance: 1e-15,
      jacobian: (_, into) => design.forEach((row, i) => row.forEach((x, j) => (into[i * n + j] = -weight[i]! * x))),
    },
  );
}

/** Square roots of a covariance's diagonal. */
export const standardErrors = (covariance: Float64Array): number[] => {
  const n = Math.sqrt(covariance.length);
  return Array.from({ length: n }, (_, i) => Math.sqrt(covariance[i * n + i]!));
};

/** AICc of a fit with equal normal noise; the noise's size counts as a parameter. */
export const gaussianAicc = (squares: number, n: number, parameters: number): number =>
  aicc(Math.log((2 * Math.PI * squares) / n) + 1, parameters + 1, n);
