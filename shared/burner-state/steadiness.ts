import { stepS } from './states.ts';

/** A flame is unsteady when its signal scatters by more than this share of the plateau's height: half way of what can be argued over. */
const unsteadyAbove = 0.08;
/** Seconds in which the scatter is measured: some ten times as long as a flame flickers, shorter than a hand takes across a shoulder. */
const windowS = 4;
/** Fewest readings of which a scatter is told: three are used up by the line. */
const fewest = 6;

/** One step's signal, as far as it shows a burning flame: undefined without a reading, during a pulse, or while nothing burns. */
export type Shown = number | undefined;

/**
 * Whether a signal scatters too much for a steady flame: residual standard deviation about a straight line, for the pressure moves the
 * signal evenly while the hand turns.
 *
 * @param signal  one for each step of `stepS`
 * @param height  of the plateau above dark, in the signal's unit
 */
export function isUnsteady(signal: readonly Shown[], from: number, to: number, height: number): boolean {
  let [n, sumT, sumS, sumTT, sumTS, sumSS] = [0, 0, 0, 0, 0, 0];
  for (let t = Math.max(0, from); t < Math.min(signal.length, to); t += 1) {
    const value = signal[t];
    if (value === undefined) continue;
    const [x, y] = [(t - from) * stepS, value / height];
    n += 1;
    sumT += x;
    sumS += y;
    sumTT += x * x;
    sumTS += x * y;
    sumSS += y * y;
  }
  if (n < fewest) return false;
  const tt = sumTT - sumT ** 2 / n;
  const ts = sumTS - (sumT * sumS) / n;
  const ss = sumSS - sumS ** 2 / n;
  const residual = ss - (tt > 0 ? ts ** 2 / tt : 0);
  return residual / (n - 2) > unsteadyAbove ** 2;
}

/** Steps of the window. */
export const windowSteps = Math.round(windowS / stepS);
