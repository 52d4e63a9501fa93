/** A flame signal and its readings, for the likelihood of what the flame did. Signals in any one unit, dark taken off. */
export interface SignalModel {
  stepS: number;
  /** Steady signal of a burning flame at each step, and the deviation of the light's flicker. */
  light: ArrayLike<number>;
  flicker: ArrayLike<number>;
  flickerS: number;
  lagS: number;
  /** Deviation of one reading, last digit included, and the highest one there is. */
  noise: number;
  clip: number;
  /** Lagged signal before the first step. */
  start: number;
  readings: { step: number; value: number }[];
}

/**
 * Log-likelihood of the readings up to each of them, given what share of the light reaches the detector at each step (1
 * burning, 0 lost or behind a shutter). Exact for light that flickers as an Ornstein-Uhlenbeck process, a first-order
 * lag and normal noise: a Kalman filter for lagged signal and flicker (Kalman 1960, Journal of Basic Engineering 82, 35),
 * likelihood by its innovations (Schweppe 1965, IEEE Transactions on Information Theory 11, 61). A reading at the clip says
 * only that the signal is there or above.
 */
export function logLikelihoods(model: SignalModel, share: (step: number) => number): Float64Array {
  const { stepS, light, flicker, readings } = model;
  const keep = Math.exp(-stepS / model.flickerS);
  const gain = stepS / (stepS + model.lagS);
  const sums = new Float64Array(readings.length);
  const variance = model.noise ** 2;
  // Signal x and flicker f: means and covariance; the flicker has unit variance.
  let [x, f] = [model.start, 0];
  let [xx, xf, ff] = [0, 0, 1];
  let sum = 0;
  let next = 0;
  for (let i = 0; next < readings.length && i < light.length; i += 1) {
    f *= keep;
    xf *= keep;
    ff = keep * keep * ff + 1 - keep * keep;
    const reaches = share(i);
    const by = gain * (reaches > 0 ? flicker[i]! : 0);
    const stay = 1 - gain;
    x = stay * x + by * f + gain * reaches * light[i]!;
    xx = stay * stay * xx + 2 * stay * by * xf + by * by * ff;
    xf = stay * xf + by * ff;
    while (next < readings.length && readings[next]!.step <= i) {
      const { value } = readings[next]!;
      const spread = xx + variance;
      const off = value - x;
      if (value >= model.clip - 1e-9) {
        sum += logUpperTail((model.clip - x) / Math.sqrt(spread));
        // Nothing new when it was expected there; an ordinary reading when not.
        if (off < 0) {
          sums[next] = sum;
          next += 1;
          continue;
        }
      } else sum -= 0.5 * (Math.log(2 * Math.PI * spread) + (off * off) / spread);
      const [kx, kf] = [xx / spread, xf / spread];
      x += kx * off;
      f += kf * off;
      ff -= kf * xf;
      xf *= 1 - kx;
      xx *= 1 - kx;
      sums[next] = sum;
      next += 1;
    }
  }
  return sums;
}

/** Logarithm of P(Z > z), standard normal: Abramowitz and Stegun 26.2.17 (|error| < 7.5e-8), far out Mills' ratio 26.2.12. */
export function logUpperTail(z: number): number {
  if (z > 5) return -0.5 * z * z - Math.log(z * Math.sqrt(2 * Math.PI)) + Math.log1p(-1 / (z * z) + 3 / z ** 4);
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const polynomial = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const upper = (Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI)) * polynomial;
  return Math.log(z >= 0 ? upper : 1 - upper);
}
