import { exp, log } from '../../numerics/elementary.ts';

/** Time constants of detector, amplifier and meter together, seconds (common practice: 0.3 to 3 s). */
export const lagSeconds = [0.15, 0.3, 0.5, 0.8, 1.2, 1.8, 2.6, 3.6] as const;
/** How probable each is before a flame was seen to light or go out: around 0.8 s, within a factor of two either way for two in three. */
export const usualLags: Float64Array = shares(lagSeconds.map((lag) => exp(-((log(lag / 0.8) / log(2)) ** 2) / 2)));

function shares(weights: readonly number[]): Float64Array {
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return Float64Array.from(weights, (weight) => weight / sum);
}

/** How many lags are told apart. */
export const lags = lagSeconds.length;

/** Mean of the detector's lag, seconds. */
export const meanLag = (lagShares: Float64Array): number => {
  let sum = 0;
  for (let k = 0; k < lags; k += 1) sum += lagShares[k]! * lagSeconds[k]!;
  return sum;
};
