import type { DarkStretch } from '../sweep/flame/flame-loss.ts';
import { undamped } from '../sweep/series/undamped.ts';
import { aiccOf } from './aicc.ts';
import type { FitData } from './fit-data.ts';
import { type CurveFit, type FitOptions, fitShape } from './fit-shape.ts';

/** Lags that are tried, seconds: this one first, since most manometers need no other, then its neighbors for as long as they fit better. */
const stepS = 0.15;
const probeS = 3 * stepS;
/** What lags by less is as good as at once: its ends and its lag stay in their intervals. */
const leastS = 0.3;
/** No manometer in use lags longer, seconds (common practice). */
const longestS = 2;

/**
 * By how much AICc must fall for a manometer that lags, beside its one parameter: a difference of 4 to 7 leaves the worse model considerably
 * less support (Burnham and Anderson 2002, Model Selection and Multimodel Inference, 2.6).
 */
const handicap = 6;

/**
 * Seconds by which the manometer lags behind the pressure at the burner, as a first-order system: that lag for which the readings are most
 * probable; 0 where they show none. A lag of the signal only shifts the curve of each direction; one of the manometer rounds the turns of the
 * hand, which the signal still has.
 *
 * @param data  readings with the pressure as it is shown
 * @param from  the shape, fitted to them
 */
export function manometerLag(data: FitData, from: CurveFit, losses: DarkStretch[], options: FitOptions): number {
  const { lowShoulder, highShoulder } = from.shape;
  if (!lowShoulder && !highShoulder) return 0;
  const fitWith = (lagS: number): CurveFit => {
    const input = { ...data.input, grid: undamped(data.input.grid, lagS) };
    return fitShape({ ...data, input }, from.shape, losses, startingAt(from, lagS), options);
  };
  const tried = new Map([[probeS, fitWith(probeS)]]);
  const criteria = () => {
    const [asShown, ...others] = aiccOf([from, ...tried.values()]);
    return new Map([...tried.keys()].map((lagS, i) => [lagS, others[i]! - asShown!]));
  };
  const best = () => [...criteria()].reduce((a, b) => (b[1] < a[1] ? b : a))[0];
  if (!(criteria().get(best())! < 0)) return 0;
  for (;;) {
    const at = best();
    const next = [at - stepS, at + stepS].map(round).find((lagS) => lagS > 0 && lagS <= longestS && !tried.has(lagS));
    if (next === undefined) break;
    tried.set(next, fitWith(next));
  }
  const found = criteria();
  const at = best();
  if (!(found.get(at)! + 2 + handicap < 0)) return 0;
  const around = [round(at - stepS), at, round(at + stepS)].map((near) => (near === 0 ? 0 : found.get(near)));
  const lagS = bottom(at, around);
  return lagS < leastS ? 0 : lagS;
}

/**
 * Standard uncertainty of what is said of the lag of the signal where that of the manometer was taken out, seconds: many average over the last
 * second, or filter twice, and a first-order system has their mean lag only about.
 */
export const manometerLagU = (lagS: number): number => 0.07 * lagS;

/** Lags are multiples of `stepS`, whatever the rounding of sums. */
const round = (lagS: number): number => Math.round(lagS / stepS) * stepS;

/** Where the parabola through three values, `stepS` apart, is lowest; the middle one where one of them is missing. */
function bottom(at: number, [before, here, after]: readonly (number | undefined)[]): number {
  if (before === undefined || here === undefined || after === undefined) return at;
  const bend = before - 2 * here + after;
  return bend > 0 ? at + (stepS * (before - after)) / (2 * bend) : at;
}

/** The fit as a start where the pressure comes sooner by `lagS`: so much later follows the signal. */
function startingAt(from: CurveFit, lagS: number): CurveFit {
  const parameters = Float64Array.from(from.fit.parameters);
  parameters[from.layout.lag]! += lagS;
  return { ...from, fit: { ...from.fit, parameters } };
}
