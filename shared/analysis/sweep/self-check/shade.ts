import { exp, log } from '../../../numerics/elementary.ts';
import { leastSquares } from '../../../numerics/linear/least-squares.ts';
import { type Series, subsample } from '../series/series.ts';
import type { PulseRhythm } from './pulse-rhythm.ts';

/** What the pulses of a shutter leave of the signal, behind the lag of detector and meter. */
export interface Shade {
  /** Share of the steady signal that a reading at a moment shows, 0 to 1; seconds. */
  shareAt: (t: number) => number;
  /** Standard uncertainty of that share between pulses. */
  u: number;
}

/** Lags from which the search starts, seconds, and shares of the period for which the shutter may be shut at the start. */
const lagStarts = [0.3, 0.8, 2];
/** Readings on the plateau that the four numbers of a rhythm need, and as many as are worth the time. */
const minReadings = 30;
const mostReadings = 800;
/** A pulse is seen up to this late, seconds, while it falls by a fifth behind a long lag. */
const seenLateS = 0.5;

/** Parameters of a rhythm: when the first pulse begins, its period, both in s; logarithms of the lag and of the seconds it is shut. */
type Rhythm = readonly [startS: number, periodS: number, logLag: number, logShut: number];

/**
 * Fits what a shutter leaves of the signal: shut for part of each period, behind a first-order lag, whose steady oscillation has a closed
 * form. Where the lag is about as long as the period the signal never comes back to its steady level, and no reading shows it.
 * Each reading of the plateau is compared with the mean of the period around it, in which the oscillation cancels.
 * Undefined where there are too few readings on the plateau, or too few of them in pulses.
 * Source: steady state of a first-order system under a periodic square input, solved in closed form.
 *
 * @param signal       flame signal over time, with its pulses
 * @param shutS        seconds for which the shutter is shut, as first estimated
 * @param isOnPlateau  whether the signal is on its plateau at a moment
 */
export function shadeOf(
  signal: Series,
  { matched, periodS }: PulseRhythm,
  shutS: number,
  isOnPlateau: (t: number) => boolean,
): Shade | undefined {
  const { time, value: share } = subsample(sharesOfMean(signal, periodS, isOnPlateau), mostReadings);
  if (time.length < minReadings) return undefined;
  const residuals = (x: Float64Array, into: Float64Array) => {
    const rhythm = rhythmOf(x);
    const mean = 1 - shutShare(rhythm);
    for (let i = 0; i < time.length; i += 1) into[i] = share[i]! - remaining(rhythm, time[i]!) / mean;
  };
  const typical = Float64Array.of(periodS / 10, periodS / 100, 1, 1);
  const fits = lagStarts.map((lag) =>
    leastSquares(
      residuals,
      Float64Array.of(matched[0]!.atS - seenLateS / 2, periodS, log(lag), log(Math.min(shutS, periodS / 2))),
      time.length,
      { iterations: 20, tolerance: 1e-5, typical },
    ),
  );
  const best = fits.reduce((a, b) => (b.rss < a.rss ? b : a));
  const u = uncertaintyOf(best.parameters, best.covariance);
  // Where hardly a reading shows a pulse, as with seven in five minutes, they determine no lag and no time shut.
  if (![...best.parameters, u].every(Number.isFinite)) return undefined;
  const rhythm = rhythmOf(best.parameters);
  return { shareAt: (t) => remaining(rhythm, t), u };
}

const rhythmOf = (x: Float64Array): Rhythm => [x[0]!, x[1]!, x[2]!, x[3]!];

/** Share of the period for which the shutter is shut. */
const shutShare = ([, periodS, , logShut]: Rhythm): number => Math.min(0.9, exp(logShut) / periodS);

/** Share of the steady signal at a moment. */
function remaining(rhythm: Rhythm, t: number): number {
  const [startS, periodS, logLag] = rhythm;
  const lagS = exp(logLag);
  const shutS = shutShare(rhythm) * periodS;
  const since = (((t - startS) % periodS) + periodS) % periodS;
  // What is missing when the shutter opens, so that it is the same one period later.
  const missing = (1 - exp(-shutS / lagS)) / (1 - exp(-periodS / lagS));
  if (since >= shutS) return 1 - missing * exp(-(since - shutS) / lagS);
  return (1 - missing * exp(-(periodS - shutS) / lagS)) * exp(-since / lagS);
}

/** Standard uncertainty of the share just before the next pulse, where a reading shows most (JCGM 100:2008, 5.1.2 with covariances). */
function uncertaintyOf(x: Float64Array, covariance: Float64Array): number {
  const n = x.length;
  const before = (at: Float64Array) => remaining(rhythmOf(at), at[0]! - 1e-6);
  const slope = Array.from(x, (_, i) => {
    const moved = (by: number) => before(x.map((value, k) => (k === i ? value + by : value)));
    return i === 0 ? 0 : (moved(1e-4) - moved(-1e-4)) / 2e-4;
  });
  let variance = 0;
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < n; j += 1) variance += slope[i]! * covariance[i * n + j]! * slope[j]!;
  return variance < 0 ? 0 : Math.sqrt(variance);
}

/** Readings of the plateau as shares of the mean over one period around them. */
function sharesOfMean({ time, value }: Series, periodS: number, isOnPlateau: (t: number) => boolean): Series {
  const [at, share]: [number[], number[]] = [[], []];
  let [from, to, sum] = [0, 0, 0];
  for (let i = 0; i < time.length; i += 1) {
    const t = time[i]!;
    while (to < time.length && time[to]! <= t + periodS / 2) sum += value[to++]!;
    // One of its two ends only, so that no phase counts twice.
    while (time[from]! <= t - periodS / 2) sum -= value[from++]!;
    const isWhole = t - time[0]! > periodS / 2 && time.at(-1)! - t > periodS / 2;
    if (!isWhole || !isOnPlateau(t) || !isOnPlateau(t - periodS / 2) || !isOnPlateau(t + periodS / 2)) continue;
    at.push(t);
    share.push((value[i]! * (to - from)) / sum);
  }
  return { time: Float64Array.from(at), value: Float64Array.from(share) };
}
