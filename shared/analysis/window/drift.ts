import type { Explanation } from '../../model/analysis-result.ts';
import { varianceInflation } from '../../numerics/autocorrelation.ts';
import { mean } from '../../numerics/descriptive.ts';
import { detrend } from '../../numerics/detrend.ts';
import { extent } from '../../numerics/descriptive.ts';
import { theilSen } from '../../numerics/theil-sen.ts';

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
  const middle = mean(left);
  const { slope, ci } = theilSen(time, off, confidence, varianceInflation(left.map((value) => value - middle)))!;
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
      const time = detrend(
        pressure,
        Float64Array.from(own, (block) => block.time),
      );
      const residual = detrend(
        pressure,
        Float64Array.from(own, (block) => block.residual),
      );
      return own.map((block, i) => ({ block, time: time[i]!, residual: residual[i]! }));
    })
    .sort((a, b) => a.block.time - b.block.time)
    .map(({ block, time, residual }) => ({ ...block, time, residual }));
}
