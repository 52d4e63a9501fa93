import { stepS } from './states.ts';

/** A flame is unsteady when its signal scatters by more than this share of the plateau's height: half way of what can be argued over. */
const unsteadyAbove = 0.08;
/** Seconds in which the scatter is measured: some ten times as long as a flame flickers, shorter than a hand takes across a shoulder. */
const windowS = 4;
/** Fewest readings of which a scatter is told: three are used up by the line. */
const fewest = 6;

/** Lags after which a signal has run in once a flame took hold or a shutter opened: a seventh of what it lacked is left. */
const runsInLags = 2;

/**
 * Follows whether a signal shows a flame that burns, step by step: not while a shutter is closed or a flame takes hold, nor while the
 * signal runs in afterwards.
 *
 * @returns what to ask at each step: whether it burns in the open then, and the detector's lag in seconds
 */
export function createRunIn(): (burnsOpenly: boolean, lagS: number) => boolean {
  let forS = 0;
  return (burnsOpenly, lagS) => {
    forS = burnsOpenly ? forS + stepS : 0;
    return forS > runsInLags * lagS;
  };
}

/**
 * Step by step: the signal where it shows a burning flame (see `createRunIn`), else NaN, and the pressure that it answers to, a lag ago.
 */
export interface Shown {
  signal: ArrayLike<number>;
  pressure: ArrayLike<number>;
}

/**
 * Whether a signal scatters too much for a steady flame: residual standard deviation about a straight line over the pressure, for the
 * signal follows the pressure down a shoulder while the hand turns.
 *
 * @param from, to  steps, the last exclusive; those that there are none of are left out
 * @param height    of the plateau above dark, in the signal's unit
 */
export function isUnsteady({ signal, pressure }: Shown, from: number, to: number, height: number): boolean {
  const first = Math.max(0, from);
  const end = Math.min(signal.length, to);
  let [n, sumY, sumYY] = [0, 0, 0];
  for (let t = first; t < end; t += 1) {
    const y = signal[t]! / height;
    if (Number.isNaN(y)) continue;
    n += 1;
    sumY += y;
    sumYY += y * y;
  }
  if (n < fewest) return false;
  const yy = sumYY - sumY ** 2 / n;
  // Mostly there is too little to be explained at all.
  if (yy / (n - 2) <= unsteadyAbove ** 2) return false;
  let [sumX, sumXX, sumXY] = [0, 0, 0];
  const origin = pressure[first]!;
  for (let t = first; t < end; t += 1) {
    const x = pressure[t]! - origin;
    const y = signal[t]! / height;
    if (Number.isNaN(y)) continue;
    sumX += x;
    sumXX += x * x;
    sumXY += x * y;
  }
  const xx = sumXX - sumX ** 2 / n;
  const xy = sumXY - (sumX * sumY) / n;
  // A pressure that stands still to the last digit has no line.
  const explained = xx > 1e-9 ? xy ** 2 / xx : 0;
  return (yy - explained) / (n - 2) > unsteadyAbove ** 2;
}

/** Steps of the window. */
export const windowSteps = Math.round(windowS / stepS);
