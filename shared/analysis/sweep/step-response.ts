import type { Explanation } from '../../model/analysis-result.ts';
import { changePoint } from '../../numerics/change-point.ts';
import { resolutionOf } from './meter-noise.ts';
import { laggedProduct } from '../../numerics/autocorrelation.ts';
import { detrend } from '../../numerics/detrend.ts';
import { median } from '../../numerics/descriptive.ts';
import { robustDeviation } from '../../numerics/robust.ts';
import type { Series } from './series.ts';

export type StepResponse = NonNullable<Explanation['stepResponse']>;

interface Turn {
  settleS: number;
  band: number;
  overshoot: number;
}

/** A hand at rest before and after a turn for at least so long, seconds, and a turn for no longer than this. */
const leastRestS = 1.2;
const longestTurnS = 6;
/** Settled: within 5 % of the step, the usual band for the settling time of a step response. */
const usualBand = 0.05;
/** Fewer turns say nothing of a regulator. */
const leastTurns = 3;

/**
 * Looks for turns of the regulator that are followed by a rest (a sweep made in stairs), and how the pressure settled
 * after each. The time holds the turn of the hand and the manometer's own lag and interval too, so it is an upper limit.
 *
 * @param pressure  the manometer's readings, spikes left out
 * Undefined with fewer than 3 such turns: a slow ramp shows nothing of the regulator.
 */
export function stepResponseOf(pressure: Series): StepResponse | undefined {
  const { time, value } = pressure;
  if (time.length < 20) return undefined;
  const steps = Float64Array.from(value.subarray(1), (v, i) => v - value[i]!);
  // Most steps are taken at rest in stairs; on a ramp this is larger, and finds fewer turns.
  const noise = Math.max(robustDeviation(steps) / Math.SQRT2, resolutionOf(value));
  const moves = findMoves(pressure, noise);
  const turns = moves.flatMap((move, k) => {
    const restFrom = moves[k - 1]?.to ?? 0;
    const restTo = moves[k + 1]?.from ?? time.length - 1;
    return turnOf(pressure, noise, restFrom, move, restTo) ?? [];
  });
  if (turns.length < leastTurns) return undefined;
  const of = (what: keyof Turn) => median(Float64Array.from(turns, (turn) => turn[what]));
  const overshoot = of('overshoot');
  const band = of('band');
  return { settleS: of('settleS'), turns: turns.length, band, ...(overshoot > band && { overshoot }) };
}

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
    if (last && time[back]! - time[last.to]! < leastRestS) last.to = i;
    else moves.push({ from: back, to: i });
  }
  return moves;
}

/** One turn with its rests before and after; undefined when they do not show how it settled. */
function turnOf(series: Series, noise: number, restFrom: number, move: Move, restTo: number): Turn | undefined {
  const { time, value } = series;
  const seconds = (from: number, to: number) => time[to]! - time[from]!;
  if (seconds(restFrom, move.from) < leastRestS || seconds(move.to, restTo) < leastRestS) return undefined;
  if (seconds(move.from, move.to) > longestTurnS) return undefined;
  // No further than six seconds on each side: a longer rest may drift for other reasons.
  let from = move.from;
  while (from > restFrom && seconds(from, move.from) < longestTurnS) from -= 1;
  let to = move.to;
  while (to < restTo && seconds(move.to, to) < longestTurnS) to += 1;
  const around = value.subarray(from, to + 1);
  const found = changePoint(around, 2);
  // One step must explain the readings clearly better than a ramp.
  if (!found || found.squares > squaresAboutLine(time.subarray(from, to + 1), around) / 2) return undefined;
  const change = from + found.start;
  const before = value.slice(from, move.from + 1);
  const restHalf = value.slice(Math.max(move.to, Math.ceil((move.to + to) / 2)), to + 1);
  const old = median(before.subarray(Math.floor(before.length / 2)));
  const level = median(restHalf);
  const step = level - old;
  // No hand halves the pressure like that: the gas was shut or came back (common practice).
  if (Math.min(level, old) < Math.max(level, old) / 2) return undefined;
  const band = Math.max(usualBand * Math.abs(step), 3 * noise, 3 * robustDeviation(restHalf, level));
  // A third of a step that is noise says nothing of the other two.
  if (!(band < Math.abs(step) / 3)) return undefined;
  // Back to the last reading at the old level, and on to the first from which all stay at the new one.
  let start = change - 1;
  while (start > from && Math.abs(value[start]! - old) > band) start -= 1;
  let settled = to;
  while (settled > change && Math.abs(value[settled - 1]! - level) <= band) settled -= 1;
  if (seconds(settled, to) < leastRestS / 2) return undefined;
  let beyond = 0;
  for (let i = change; i <= to; i += 1)
    beyond = Math.max(beyond, ((value[i]! - level) * Math.sign(step)) / Math.abs(step));
  return { settleS: seconds(start, settled), band: band / Math.abs(step), overshoot: beyond };
}

/** Squared deviations from the best straight line: what a ramp would leave, where a turn leaves less. */
const squaresAboutLine = (time: Float64Array, value: Float64Array): number => laggedProduct(detrend(time, value), 0);
