import { exp, log } from '../../numerics/elementary.ts';
import { normalCdf } from '../../numerics/distributions.ts';

/** What a reading at an end of the meter's range enters the fit with: a residual whose half square is its -log likelihood, and its slope. */
export interface Censored {
  residual: number;
  /** Change of the residual for each deviation that the prediction falls, 0 to 1: 1 for a reading that is known. */
  slope: number;
}

/** Below this the distribution function is taken from its asymptotic form; relative error below 1 %. */
const farOut = -10;

/**
 * A censored reading: all that is known is that the signal lay beyond the end of the range. Its likelihood is the probability F(z) of that, so
 * that its residual is sqrt(-2 ln F(z)): none where the prediction lies far beyond, and the distance where it lies far inside.
 * Source: Tobin 1958, Econometrica 26, 24 (likelihood of censored readings).
 *
 * @param z  how far the prediction lies beyond the end of the range, in deviations of the noise
 */
export function censored(z: number): Censored {
  if (z < farOut) {
    const residual = Math.sqrt(z * z + 2 * log(-z * Math.sqrt(2 * Math.PI)));
    return { residual, slope: (-z - 1 / z) / residual };
  }
  const within = normalCdf(z);
  const residual = Math.sqrt(Math.max(0, -2 * log(within)));
  const density = exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  return { residual, slope: residual > 0 ? density / (within * residual) : 0 };
}
