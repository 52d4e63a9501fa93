import { mean } from './descriptive.ts';

/**
 * Residuals of y about its least-squares straight line in x; about its mean where all x are alike.
 *
 * @param x, y  same length
 */
export function detrend(x: Float64Array, y: Float64Array): Float64Array {
  const [middle, level] = [mean(x), mean(y)];
  let cross = 0;
  let square = 0;
  x.forEach((value, i) => {
    cross += (value - middle) * (y[i]! - level);
    square += (value - middle) ** 2;
  });
  const slope = square > 0 ? cross / square : 0;
  return y.map((value, i) => value - level - slope * (x[i]! - middle));
}
