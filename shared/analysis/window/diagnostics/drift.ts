import type { Explanation } from '../../../model/results/analysis-result.ts';
import { varianceInflation } from '../../../numerics/autocorrelation.ts';
import { extent, mean } from '../../../numerics/descriptive.ts';
import { detrend } from '../../../numerics/detrend.ts';
import { normalQuantile } from '../../../numerics/distributions.ts';
import { theilSen } from '../../../numerics/theil-sen.ts';
import type { SignalInterval } from '../ends/signal-interval.ts';

/**
 * How much the plateau signal drifted in time, whatever the pressure: from the first to the last moment on the plateau,
 * positive when it rose, in the signal's unit.
 */
export type Drift = NonNullable<Explanation['drift']>;

/** Slices of pressure, inside which the same pressure is compared with itself at other times. */
const slices = 8;
/** Most blocks that the trend, which looks at all pairs, is taken over: 250 make 31,000 pairs. */
const maxBlocks = 250;
/** Fewer blocks than this show no trend: the interval of Kendall's test on them spans most of their slopes. */
const minBlocks = 10;
/** Time must vary at one pressure by this share of the whole; in a sweep in one direction it does not. */
const minFreedom = 0.2;

/** Means over a block of readings in one slice of pressure. */
interface Block {
  time: number;
  pressure: number;
  residual: number;
  slice: number;
}

/**
 * The drift of the signal on the plateau: the residual of the curve is compared with itself at the same pressure and
 * other times, so that a plateau that slopes with the pressure is no drift, and a sweep in one direction only, in which
 * time and pressure cannot be distinguished, gives no number.
 *
 * @param elapsedS, pressure, residual  per reading in time order, lag removed, same length; residual: signal minus curve
 * @param plateau                       lowest and highest pressure of the flat part of the curve
 * @param confidence                    of the interval, two-sided
 * Undefined with fewer than 10 blocks of a second each, or when the pressures were passed once only.
 * Source of the comparison within slices: Hirsch, Slack and Smith 1982, Water Resources Research 18, 107 (seasonal
 * trend: each season against itself); of slope and autocorrelation see `theilSen`.
 */
export function driftOf(
  elapsedS: Float64Array,
  pressure: Float64Array,
  residual: Float64Array,
  plateau: readonly [number, number],
  confidence: number,
): Drift | undefined {
  const all = blocksOf(elapsedS, pressure, residual, plateau);
  const blocks = withoutPressure(all);
  if (blocks.length < minBlocks) return undefined;
  const time = Float64Array.from(blocks, (block) => block.time);
  const [first, last] = extent(Float64Array.from(all, (block) => block.time));
  const [low, high] = extent(time);
  if (high - low < minFreedom * (last - first)) return undefined;
  const values = Float64Array.from(blocks, (block) => block.residual);
  const plain = theilSen(time, values, confidence);
  if (!plain) return undefined;
  // The drift itself correlates neighbors: only what is left without it shows how they are correlated by chance.
  const left = values.map((value, i) => value - plain.slope * time[i]!);
  const middle = mean(left);
  const { slope, ci } = theilSen(time, values, confidence, varianceInflation(left.map((value) => value - middle)))!;
  const inside = elapsedS.filter((_, i) => pressure[i]! >= plateau[0] && pressure[i]! <= plateau[1]);
  const [from, to] = extent(inside);
  const overS = to - from;
  return { change: slope * overS, ci: [ci[0] * overS, ci[1] * overS], confidence, overS };
}

/** Means over a second or more while the pressure stays in one slice. */
function blocksOf(
  elapsedS: Float64Array,
  pressure: Float64Array,
  residual: Float64Array,
  [low, high]: readonly [number, number],
): Block[] {
  const [from, to] = extent(elapsedS);
  const longest = Math.max(1, (to - from) / maxBlocks);
  const sliceOf = (p: number) =>
    p < low || p > high ? -1 : Math.min(slices - 1, Math.floor(((p - low) / (high - low)) * slices));
  const blocks: Block[] = [];
  let start = 0;
  for (let i = 1; i <= elapsedS.length; i += 1) {
    const slice = sliceOf(pressure[start]!);
    if (i < elapsedS.length && sliceOf(pressure[i]!) === slice && elapsedS[i]! - elapsedS[start]! < longest) continue;
    if (slice >= 0)
      blocks.push({
        time: mean(elapsedS.subarray(start, i)),
        pressure: mean(pressure.subarray(start, i)),
        residual: mean(residual.subarray(start, i)),
        slice,
      });
    start = i;
  }
  return blocks;
}

/** Times and residuals without what goes with the pressure inside their slice (mean and slope), in time order. */
function withoutPressure(blocks: Block[]): Block[] {
  return Array.from({ length: slices }, (_, slice) => blocks.filter((block) => block.slice === slice))
    .filter((members) => members.length > 2)
    .flatMap((members) => {
      const pressure = Float64Array.from(members, (block) => block.pressure);
      const time = detrend(
        pressure,
        Float64Array.from(members, (block) => block.time),
      );
      const residual = detrend(
        pressure,
        Float64Array.from(members, (block) => block.residual),
      );
      return members.map((block, i) => ({ block, time: time[i]!, residual: residual[i]! }));
    })
    .sort((a, b) => a.block.time - b.block.time)
    .map(({ block, time, residual }) => ({ ...block, time, residual }));
}

/**
 * Standard uncertainty of the plateau for the drift during the sweep, in the signal's unit: how far the signal was from its
 * final level is not known, by as much as it drifted either way (a rectangle, JCGM 100:2008, 4.3.7), and how much that was
 * only within its own interval. 0 where no drift shows.
 */
export function driftUncertainty(drift: Drift | undefined): number {
  if (!drift || !isBeyondChance(drift)) return 0;
  const { change, ci, confidence } = drift;
  const ownU = (ci[1] - ci[0]) / 2 / normalQuantile((1 + confidence) / 2);
  return Math.hypot(change / Math.sqrt(3), ownU);
}

/** Whether the interval of a drift leaves out zero. */
export const isBeyondChance = ({ ci }: Drift): boolean => ci[0] * ci[1] > 0;

/**
 * A drift matters when it is beyond chance and uses up more than a fifth of the drop that is allowed: less is lost in the width
 * of a shoulder.
 */
export function isDriftRelevant(
  drift: Drift,
  { plateau, required }: Pick<SignalInterval, 'plateau' | 'required'>,
): boolean {
  const drop = plateau.value - required.value;
  return isBeyondChance(drift) && drop > 0 && Math.abs(drift.change) > drop / 5;
}
