import { median, quantile } from '../../numerics/descriptive.ts';
import { hampel, robustDeviation } from '../../numerics/robust.ts';
import { resolutionOf } from './series/meter-noise.ts';
import { findSelfCheck, type SelfCheck } from './self-check/self-check.ts';
import type { Shade } from './self-check/shade.ts';
import { keepOnly, keepWhere, type Series } from './series/series.ts';

/** The series of both meters without what is no reading of the pilot. */
export interface Cleaned {
  pressure: Series;
  signal: Series;
  /** The signal with its spikes. */
  spikedSignal: Series;
  /** Readings of both meters that were left out, by reason. */
  leftOut: { spikes: number; wrongTime: number; selfCheck: number };
  selfCheck?: SelfCheck;
  /** What its pulses leave of the readings between them. */
  shade?: Shade;
}

/** Leaves out spikes of either meter and the pulses of a self-checking detector. What is left out is counted, never altered. */
export function clean(pressure: Series, signal: Series): Cleaned {
  const [timelyPressure, timelySignal] = [withoutWrongTimes(pressure), withoutWrongTimes(signal)];
  const pulses = findSelfCheck(timelySignal);
  const litSignal = pulses ? keepOnly(timelySignal, pulses.keep) : timelySignal;
  const [cleanPressure, cleanSignal] = [removeSpikes(timelyPressure), removeSpikes(litSignal)];
  const removed = (before: Series, after: Series) => before.time.length - after.time.length;
  return {
    pressure: cleanPressure,
    signal: cleanSignal,
    spikedSignal: litSignal,
    leftOut: {
      spikes: removed(timelyPressure, cleanPressure) + removed(litSignal, cleanSignal),
      wrongTime: removed(pressure, timelyPressure) + removed(signal, timelySignal),
      selfCheck: removed(timelySignal, litSignal),
    },
    ...(pulses && { selfCheck: pulses.found }),
    ...(pulses?.shade && { shade: pulses.shade }),
  };
}

/** How many times the span of the middle four fifths of its times a sweep may reach on each side. */
const timeSpans = 20;

/**
 * Leaves out readings whose time is a logger's error: far beyond the span of the others. One such would stretch the sweep to
 * years; a pause in the middle, however long, belongs to the span.
 */
export function withoutWrongTimes(series: Series): Series {
  const isTimely = timelyTest(series.time);
  const { time } = series;
  return keepOnly(
    series,
    keepWhere(time.length, (i) => isTimely(time[i]!)),
  );
}

/**
 * A test of whether a time, in seconds, may belong to a capture with these times.
 *
 * @param times  finite, in any order
 */
export function timelyTest(times: Float64Array): (elapsedS: number) => boolean {
  const farthest = timeSpans * (quantile(times, 0.9) - quantile(times, 0.1));
  const middle = median(times);
  return (elapsedS) => Math.abs(elapsedS - middle) <= farthest;
}

/**
 * Sooner than this, seconds, nobody turns a regulator out, waits for the lagging flame signal and turns it back: lags go up to
 * 3 s.
 */
const thereAndBackS = 6;
/** Readings on each side of which the running median is taken, and robust deviations from it that make a spike. */
const spikeSide = 3;
const spikeDeviations = 6;

/**
 * Leaves out readings that jump away and come straight back: one or two readings further than 6 robust deviations from
 * the median of the seven around them, and far outside both neighbors. A real shoulder does not come straight back; where
 * readings come so seldom that the regulator may have been turned there and back between them, nothing is rejected. Among
 * normal readings 6 deviations are one in five hundred million: what is rejected is no noise.
 * Source of the rule: Hampel 1974, JASA 69, 383 (deviation from the running median, scale by the median absolute deviation).
 */
export function removeSpikes(series: Series): Series {
  const { time, value } = series;
  const n = value.length;
  if (n < 2 * spikeSide + 1) return series;
  const steps = new Float64Array(n - 1);
  for (let i = 0; i + 1 < n; i += 1) steps[i] = value[i + 1]! - value[i]!;
  // The scale of ordinary steps keeps a quiet or quantized stretch, whose own deviation is zero, from rejecting everything.
  const ordinary = Math.max(robustDeviation(steps), resolutionOf(value));
  const keep = new Uint8Array(n).fill(1);
  for (const { index: i, median: center } of hampel(value, spikeSide, spikeDeviations, spikeDeviations * ordinary)) {
    const jump = value[i]! - center;
    const before = value[Math.max(0, i - 1)]! - center;
    const after = value[Math.min(n - 1, i + 1)]! - center;
    const before2 = value[Math.max(0, i - 2)]! - center;
    const after2 = value[Math.min(n - 1, i + 2)]! - center;
    const isNear = (x: number) => Math.abs(x) < Math.abs(jump) / 3;
    const alone = isNear(before) && isNear(after);
    const pair = (isNear(before) && isNear(after2)) || (isNear(before2) && isNear(after));
    const hasNeighbors = i > 0 && i < n - 1;
    if ((alone || pair) && hasNeighbors && time[i + 1]! - time[i - 1]! <= thereAndBackS) keep[i] = 0;
  }
  return keepOnly(series, keep);
}
