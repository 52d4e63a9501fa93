import type { Explanation } from '../model/analysis-result.ts';
import { lagProduct, mean } from './moments.ts';
import { extent, robustDeviation } from './robust.ts';
import { theilSen } from './trend.ts';

/**
 * How much the plateau signal crept in time, whatever the pressure: from the first to the last moment on the plateau,
 * positive when it rose, in the signal's unit.
 */
export type Drift = NonNullable<Explanation['drift']>;

/** Slices of pressure, inside which the same pressure is compared with itself at other times. */
const slices = 8;
/** Most values that the trend, which looks at all pairs, is taken over. */
const mostBlocks = 250;
/** Fewer values than this say nothing about a trend. */
const leastBlocks = 10;
/** Time must vary at one pressure by this share of the whole; in a sweep in one direction it does not. */
const leastFreedom = 0.2;

interface Block {
  time: number;
  pressure: number;
  residual: number;
  slice: number;
}

/**
 * The drift of the signal on the plateau: what the curve leaves over is compared with itself at the same pressure and
 * other times, so that a plateau that slopes with the pressure is no drift, and a sweep in one direction only, in which
 * time and pressure cannot be told apart, gives no number.
 *
 * @param elapsedS, pressure, residual  per reading in time order, lag removed, same length; residual: signal less curve
 * @param plateau                       lowest and highest pressure of the flat part of the curve
 * @param confidence                    of the interval, two-sided
 * Undefined with fewer than 10 values of a second each, or when the pressures were passed once only.
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
  const found = blocksOf(elapsedS, pressure, residual, plateau);
  const blocks = freed(found);
  if (blocks.length < leastBlocks) return undefined;
  const time = Float64Array.from(blocks, (block) => block.time);
  const [first, last] = extent(Float64Array.from(found, (block) => block.time));
  const [low, high] = extent(time);
  if (high - low < leastFreedom * (last - first)) return undefined;
  const off = Float64Array.from(blocks, (block) => block.residual);
  const plain = theilSen(time, off, confidence);
  if (!plain) return undefined;
  // The drift itself makes neighbours alike: what is left without it shows how alike they are by chance.
  const left = off.map((value, i) => value - plain.slope * time[i]!);
  const { slope, ci } = theilSen(time, off, confidence, inflationOf(left))!;
  const inside = elapsedS.filter((_, i) => pressure[i]! >= plateau[0] && pressure[i]! <= plateau[1]);
  const [from, to] = extent(inside);
  const overS = to - from;
  return { change: slope * overS, ci: [ci[0] * overS, ci[1] * overS], confidence, overS };
}

/** Means over a second or more of a stay in one slice of pressure. */
function blocksOf(
  elapsedS: Float64Array,
  pressure: Float64Array,
  residual: Float64Array,
  [low, high]: readonly [number, number],
): Block[] {
  const [from, to] = extent(elapsedS);
  const longest = Math.max(1, (to - from) / mostBlocks);
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

/** Times and residuals with what goes with the pressure inside their slice taken out of both (mean and slope). */
function freed(blocks: Block[]): Block[] {
  return Array.from({ length: slices }, (_, slice) => blocks.filter((block) => block.slice === slice))
    .filter((own) => own.length > 2)
    .flatMap((own) => {
      const pressure = Float64Array.from(own, (block) => block.pressure);
      const time = withoutLine(
        pressure,
        own.map((block) => block.time),
      );
      const residual = withoutLine(
        pressure,
        own.map((block) => block.residual),
      );
      return own.map((block, i) => ({ block, time: time[i]!, residual: residual[i]! }));
    })
    .sort((a, b) => a.block.time - b.block.time)
    .map(({ block, time, residual }) => ({ ...block, time, residual }));
}

/** What a straight line in x leaves of y. */
function withoutLine(x: Float64Array, y: number[]): Float64Array {
  const [middle, level] = [mean(x), mean(Float64Array.from(y))];
  let cross = 0;
  let square = 0;
  x.forEach((value, i) => {
    cross += (value - middle) * (y[i]! - level);
    square += (value - middle) ** 2;
  });
  const slope = square > 0 ? cross / square : 0;
  return Float64Array.from(y, (value, i) => value - level - slope * (x[i]! - middle));
}

/**
 * How many values count as one: 1 + 2 x the sum of the autocorrelations, as far as they are clearly above chance. At least 1.
 * Source: Bayley and Hammersley 1946, J. Royal Stat. Soc. Suppl. 8, 184 (effective number of correlated observations).
 */
function inflationOf(left: Float64Array): number {
  if (robustDeviation(left) === 0) return 1;
  const middle = mean(left);
  const off = left.map((value) => value - middle);
  const all = lagProduct(off, 0);
  const chance = 1 / Math.sqrt(left.length);
  let sum = 0;
  for (let lag = 1; lag < left.length / 4; lag += 1) {
    const alike = lagProduct(off, lag) / all;
    if (alike < chance) break;
    sum += alike;
  }
  return 1 + 2 * sum;
}
