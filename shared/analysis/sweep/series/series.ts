import type { TimeSpan } from '../../../model/sweeps.ts';
import { mean, select } from '../../../numerics/descriptive.ts';
import { firstIndexWhere } from '../../../numerics/search.ts';

/** Numbers of one channel in time order; equal lengths, strictly rising seconds, no NaN. */
export interface Series {
  time: Float64Array;
  value: Float64Array;
}

/**
 * The readings for which `keep` is 1, in order.
 *
 * @param keep  0 or 1 for each reading
 */
export function keepOnly(series: Series, keep: Uint8Array): Series {
  let kept = 0;
  for (let i = 0; i < keep.length; i += 1) kept += keep[i]!;
  const [time, value] = [new Float64Array(kept), new Float64Array(kept)];
  let at = 0;
  for (let i = 0; i < keep.length; i += 1) {
    if (keep[i] !== 1) continue;
    time[at] = series.time[i]!;
    value[at] = series.value[i]!;
    at += 1;
  }
  return { time, value };
}

/**
 * Means of blocks of consecutive readings, so that about `most` remain: bounds the work on very long captures. A block ends at a gap, for
 * the mean of its times would be a moment at which nothing was read, with the pressure of that moment: gas was shut then, or a meter silent.
 */
export function averageBlocks(series: Series, most: number): Series {
  const { time, value } = series;
  const n = time.length;
  if (n <= most) return series;
  const size = Math.ceil(n / most);
  const gapS = longestGap(series);
  const times: number[] = [];
  const values: number[] = [];
  for (let from = 0, to = 0; from < n; from = to) {
    to = from + 1;
    while (to < n && to < from + size && time[to]! - time[to - 1]! <= gapS) to += 1;
    times.push(mean(time.subarray(from, to)));
    values.push(mean(value.subarray(from, to)));
  }
  return { time: Float64Array.from(times), value: Float64Array.from(values) };
}

/**
 * Every k-th reading with the smallest k that leaves at most `most`: unlike means, single values and their noise stay as they
 * are.
 */
export function subsample(series: Series, most: number): Series {
  const step = Math.ceil(series.time.length / most);
  const wanted = (_: number, i: number) => i % step === 0;
  return { time: series.time.filter(wanted), value: series.value.filter(wanted) };
}

// Of each array of times once: it is asked for at every stretch of a visit, and sorts all readings.
const knownSteps = new WeakMap<Float64Array, number>();

/** Median seconds between readings; 1 for a single reading. The times must not be changed afterwards. */
export function typicalStep({ time }: Series): number {
  const known = knownSteps.get(time);
  if (known !== undefined) return known;
  const steps = new Float64Array(Math.max(0, time.length - 1));
  for (let i = 0; i < steps.length; i += 1) steps[i] = time[i + 1]! - time[i]!;
  const step = steps.length > 0 ? select(steps, steps.length >> 1) : 1;
  knownSteps.set(time, step);
  return step;
}

/**
 * Seconds without a reading after which a meter counts as silent: five of its usual intervals, which no jitter of a port makes,
 * and at least two seconds, within which a pressure that is turned slowly can be interpolated.
 */
export const longestGap = (series: Series): number => Math.max(2, 5 * typicalStep(series));

/**
 * Standard uncertainty, in seconds, of the time of a reading. It stands for some moment since the reading before, unknown
 * which. Both meters average, so most of that is common to both: what is left is a quarter of the faster meter's interval, as a
 * rectangle (JCGM 100:2008 4.3.7).
 */
export const readingTimeUncertainty = (pressure: Series, signal: Series): number =>
  Math.min(typicalStep(pressure), typicalStep(signal)) / 4 / Math.sqrt(3);

/**
 * Standard uncertainty, in seconds, of the moment at which the flame went or came back: that one moment does not average out. Each meter's
 * readings stand for some moment since the one before (rectangles, JCGM 100:2008 4.3.7), and gas line and manometer take a tenth of a
 * second or two to follow a jerk of the hand (common practice).
 */
export const lossTimeUncertainty = (pressure: Series, signal: Series): number =>
  Math.hypot(typicalStep(pressure) / Math.sqrt(12), typicalStep(signal) / Math.sqrt(12), 0.15);

/** Whether two neighboring times between two places lie further apart than `longest`. */
export function hasGap(time: Float64Array, from: number, to: number, longest: number): boolean {
  for (let i = from; i < to; i += 1) if (time[i + 1]! - time[i]! > longest) return true;
  return false;
}

/** 1 for each index below `count` for which `holds` is true, 0 for the others; several times as fast as Uint8Array.from. */
export function keepWhere(count: number, holds: (i: number) => boolean): Uint8Array {
  const keep = new Uint8Array(count);
  for (let i = 0; i < count; i += 1) keep[i] = Number(holds(i));
  return keep;
}

/** 1 for each of the rising times outside of all stretches, ends included, and of `afterS` seconds behind them. */
export function outside(time: Float64Array, stretches: readonly TimeSpan[], afterS = 0): Uint8Array {
  const keep = new Uint8Array(time.length).fill(1);
  for (const { fromS, toS } of stretches) {
    let at = firstIndexWhere(time.length, (i) => time[i]! >= fromS);
    for (; at < time.length && time[at]! <= toS + afterS; at += 1) keep[at] = 0;
  }
  return keep;
}

/** The longest runs of indices below `count` for which `holds` is true, each from its first index to the one after its last. */
export function runsWhere(count: number, holds: (i: number) => boolean): [from: number, to: number][] {
  const runs: [number, number][] = [];
  for (let from = 0; from < count; from += 1) {
    if (!holds(from)) continue;
    let to = from + 1;
    while (to < count && holds(to)) to += 1;
    runs.push([from, to]);
    from = to;
  }
  return runs;
}
