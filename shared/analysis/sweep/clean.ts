import { quantileSorted } from '../../numerics/descriptive.ts';
import { hampel, robustDeviation } from '../../numerics/robust.ts';
import { resolutionOf } from './meter-noise.ts';
import { findSelfCheck, type SelfCheck } from './self-check.ts';
import { keepOnly, type Series } from './series.ts';

export interface Cleaned {
  pressure: Series;
  signal: Series;
  /** Readings of both meters that were left out, by reason. */
  leftOut: { spikes: number; wrongTime: number; selfCheck: number };
  selfCheck?: SelfCheck;
}

/** Leaves out spikes of either meter and the pulses of a self-checking detector. What is left out is counted, never altered. */
export function clean(pressure: Series, signal: Series): Cleaned {
  const timelyPressure = inReasonableTime(pressure);
  const timely = inReasonableTime(signal);
  const pulses = findSelfCheck(timely);
  const steady = pulses ? keepOnly(timely, pulses.keep) : timely;
  const [pressureKept, signalKept] = [removeSpikes(timelyPressure), removeSpikes(steady)];
  const fewer = (all: Series, kept: Series) => all.time.length - kept.time.length;
  return {
    pressure: pressureKept,
    signal: signalKept,
    leftOut: {
      spikes: fewer(timelyPressure, pressureKept) + fewer(steady, signalKept),
      wrongTime: fewer(pressure, timelyPressure) + fewer(signal, timely),
      selfCheck: fewer(timely, steady),
    },
    ...(pulses && { selfCheck: pulses.found }),
  };
}

/**
 * Leaves out readings whose time is a logger's slip: further from the middle than twenty times the span of the middle
 * four fifths. One such would stretch the sweep to years.
 */
function inReasonableTime(series: Series): Series {
  const { time } = series;
  const reach = 20 * (quantileSorted(time, 0.9) - quantileSorted(time, 0.1));
  const middle = quantileSorted(time, 0.5);
  return keepOnly(
    series,
    Uint8Array.from(time, (t) => Number(Math.abs(t - middle) <= reach)),
  );
}

/** Sooner than this no hand turns a regulator out, waits for the flame and turns it back (common practice), seconds. */
const thereAndBackS = 6;

/**
 * Leaves out readings that jump away and come straight back: one or two readings further than 6 robust deviations from
 * the median of the seven around them, and far outside both neighbours. A real edge does not come straight back; where
 * readings come so seldom that a hand may have gone and come back between them, nothing is rejected.
 * Source of the rule: Hampel 1974, JASA 69, 383 (deviation from the running median, scale by the median absolute deviation).
 */
export function removeSpikes(series: Series): Series {
  const { time, value } = series;
  const n = value.length;
  if (n < 7) return series;
  const steps = new Float64Array(n - 1);
  for (let i = 0; i + 1 < n; i += 1) steps[i] = value[i + 1]! - value[i]!;
  // The scale of ordinary steps keeps a quiet or quantised stretch, whose own deviation is zero, from rejecting everything.
  const ordinary = Math.max(robustDeviation(steps), resolutionOf(value));
  const keep = new Uint8Array(n).fill(1);
  for (const { index: i, median: centre } of hampel(value, 3, 6)) {
    const off = value[i]! - centre;
    if (Math.abs(off) <= 6 * ordinary) continue;
    const before = value[Math.max(0, i - 1)]! - centre;
    const after = value[Math.min(n - 1, i + 1)]! - centre;
    const before2 = value[Math.max(0, i - 2)]! - centre;
    const after2 = value[Math.min(n - 1, i + 2)]! - centre;
    const near = (x: number) => Math.abs(x) < Math.abs(off) / 3;
    const alone = near(before) && near(after);
    const pair = (near(before) && near(after2)) || (near(before2) && near(after));
    const there = i > 0 && i < n - 1;
    if ((alone || pair) && there && time[i + 1]! - time[i - 1]! <= thereAndBackS) keep[i] = 0;
  }
  return keepOnly(series, keep);
}
