import type { Explanation } from '../../model/results/analysis-result.ts';
import { laggedProduct } from '../../numerics/autocorrelation.ts';
import { changePoint } from '../../numerics/change-point.ts';
import { median } from '../../numerics/descriptive.ts';
import { detrend } from '../../numerics/detrend.ts';
import { robustDeviation } from '../../numerics/robust.ts';
import { resolutionOf } from './series/meter-noise.ts';
import type { Series } from './series/series.ts';

/** How fast the pressure settles after a turn of the regulator. */
export type StepResponse = NonNullable<Explanation['stepResponse']>;

/** Settling time in seconds; half width of the band and overshoot as shares of the step. */
interface Turn {
  settleS: number;
  band: number;
  overshoot: number;
}

/** The regulator rests before and after a turn for at least this long, seconds: a few time constants of the manometer. */
const minRestS = 1.2;
/** A turn takes no longer than this, seconds: what moves on is a ramp. */
const longestTurnS = 6;
/** Settled: within 5 % of the step, the usual band for the settling time of a step response in control engineering. */
const usualBand = 0.05;
/** A median of fewer turns is any of them. */
const minTurns = 3;

/**
 * Looks for turns of the regulator that are followed by a rest (a sweep made in stairs), and how the pressure settled
 * after each. The time includes the turning itself and the manometer's own lag and interval, so it is an upper limit.
 *
 * @param pressure  the manometer's readings, spikes left out
 * Undefined with fewer than 3 such turns: a slow ramp shows nothing of the regulator.
 */
export function stepResponseOf(pressure: Series): StepResponse | undefined {
  const { time, value } = pressure;
  if (time.length < 20) return undefined;
  const steps = value.subarray(1).map((v, i) => v - value[i]!);
  // Most steps are taken at rest in stairs; on a ramp this is larger, and finds fewer turns.
  const noise = Math.max(robustDeviation(steps) / Math.SQRT2, resolutionOf(value));
  const moves = findMoves(pressure, noise);
  const turns = moves.flatMap((move, k) => {
    const restFrom = moves[k - 1]?.to ?? 0;
    const restTo = moves[k + 1]?.from ?? time.length - 1;
    return turnOf(pressure, noise, restFrom, move, restTo) ?? [];
  });
  if (turns.length < minTurns) return undefined;
  const medianOf = (quantity: keyof Turn) => median(Float64Array.from(turns, (turn) => turn[quantity]));
  const overshoot = medianOf('overshoot');
  const band = medianOf('band');
  return { settleS: medianOf('settleS'), turns: turns.length, band, ...(overshoot > band && { overshoot }) };
}

/** Indices of the readings between which the pressure moves. */
interface Move {
  from: number;
  to: number;
}

/** Stretches of readings between which the pressure moves clearly; shorter rests between them belong to the move. */
function findMoves({ time, value }: Series, noise: number): Move[] {
  const moves: Move[] = [];
  let back = 0;
  for (let i = 1; i < time.length; i += 1) {
    // Over half a second, or from reading to reading of a slower manometer.
    while (back < i - 1 && time[i]! - time[back + 1]! >= 0.5) back += 1;
    if (Math.abs(value[i]! - value[back]!) <= 6 * noise) continue;
    const last = moves.at(-1);
    if (last && time[back]! - time[last.to]! < minRestS) last.to = i;
    else moves.push({ from: back, to: i });
  }
  return moves;
}

/** One turn with its rests before and after; undefined when they do not show how it settled. */
function turnOf(series: Series, noise: number, restFrom: number, move: Move, restTo: number): Turn | undefined {
  const { time, value } = series;
  const seconds = (from: number, to: number) => time[to]! - time[from]!;
  if (seconds(restFrom, move.from) < minRestS || seconds(move.to, restTo) < minRestS) return undefined;
  if (seconds(move.from, move.to) > longestTurnS) return undefined;
  // No further than the longest turn on each side: a longer rest may drift for other reasons.
  let from = move.from;
  while (from > restFrom && seconds(from, move.from) < longestTurnS) from -= 1;
  let to = move.to;
  while (to < restTo && seconds(move.to, to) < longestTurnS) to += 1;
  const around = value.subarray(from, to + 1);
  const step = changePoint(around, 2);
  // One step must explain the readings clearly better than a ramp.
  if (!step || step.rss > squaresAboutLine(time.subarray(from, to + 1), around) / 2) return undefined;
  const change = from + step.start;
  const before = value.slice(from, move.from + 1);
  const settledHalf = value.slice(Math.max(move.to, Math.ceil((move.to + to) / 2)), to + 1);
  const old = median(before.subarray(Math.floor(before.length / 2)));
  const level = median(settledHalf);
  const size = level - old;
  // A turn of a sweep does not halve or double the pressure at once, which would skip a whole shoulder: a valve does.
  if (Math.min(level, old) < Math.max(level, old) / 2) return undefined;
  const band = Math.max(usualBand * Math.abs(size), 3 * noise, 3 * robustDeviation(settledHalf, level));
  // A band of a third of the step would be reached by noise.
  if (!(band < Math.abs(size) / 3)) return undefined;
  // Back to the last reading at the old level, and on to the first from which all stay at the new one.
  let start = change - 1;
  while (start > from && Math.abs(value[start]! - old) > band) start -= 1;
  let settled = to;
  while (settled > change && Math.abs(value[settled - 1]! - level) <= band) settled -= 1;
  if (seconds(settled, to) < minRestS / 2) return undefined;
  let overshoot = 0;
  for (let i = change; i <= to; i += 1)
    overshoot = Math.max(overshoot, ((value[i]! - level) * Math.sign(size)) / Math.abs(size));
  return { settleS: seconds(start, settled), band: band / Math.abs(size), overshoot };
}

/** Squared deviations from the best straight line: what a ramp would leave, where a turn leaves less. */
const squaresAboutLine = (time: Float64Array, value: Float64Array): number => laggedProduct(detrend(time, value), 0);
