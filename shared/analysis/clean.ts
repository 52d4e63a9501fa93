import { hampel, median, quantileSorted, robustDeviation } from './robust.ts';
import { keepOnly, type Series } from './series.ts';

/** A detector that tests itself closes a shutter at intervals: seconds from pulse to pulse and seconds of a pulse. */
export interface SelfCheck {
  periodS: number;
  widthS: number;
  pulses: number;
}

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
  const [pressureKept, signalKept] = [withoutSpikes(timelyPressure), withoutSpikes(steady)];
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

/**
 * Leaves out readings that jump away and come straight back: one or two readings further than 6 robust deviations from
 * the median of the seven around them, and far outside both neighbours. A real edge does not come straight back.
 * Source of the rule: Hampel 1974, JASA 69, 383 (deviation from the running median, scale by the median absolute deviation).
 */
export function withoutSpikes(series: Series): Series {
  const { value } = series;
  const n = value.length;
  if (n < 7) return series;
  const steps = new Float64Array(n - 1);
  for (let i = 0; i + 1 < n; i += 1) steps[i] = value[i + 1]! - value[i]!;
  // The scale of ordinary steps keeps a quiet or quantised stretch, whose own deviation is zero, from rejecting everything.
  const ordinary = Math.max(robustDeviation(steps), quantum(value));
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
    if ((alone || pair) && i > 0 && i < n - 1) keep[i] = 0;
  }
  return keepOnly(series, keep);
}

/** Smallest step between different values: what the meter's last digit is worth. */
export function quantum(value: Float64Array): number {
  const sorted = Float64Array.from(value).sort();
  let least = Infinity;
  for (let i = 1; i < sorted.length; i += 1) {
    const step = sorted[i]! - sorted[i - 1]!;
    if (step > 1e-12 && step < least) least = step;
  }
  return least === Infinity ? 0 : least;
}

/** Short drops at even intervals: at least three of like length whose distances agree within a fifth. */
function findSelfCheck(signal: Series): { keep: Uint8Array; found: SelfCheck } | undefined {
  const { time, value } = signal;
  const n = value.length;
  if (n < 30) return undefined;
  // Only a lit flame shows its shutter: in the dark the noise itself falls by half all the time.
  const lit = 0.25 * quantileSorted(Float64Array.from(value).sort(), 0.9);
  const drops: { from: number; to: number; at: number; width: number }[] = [];
  for (let i = 1; i < n - 1; i += 1) {
    const level = value[i - 1]!;
    if (!(level > lit) || value[i]! > 0.6 * level) continue;
    let end = i;
    // A shutter opens again within 1.5 s (common practice: part of a second).
    while (end < n && time[end]! - time[i - 1]! <= 1.5 && value[end]! <= 0.7 * level) end += 1;
    if (end < n && value[end]! > 0.7 * level && time[end]! - time[i - 1]! <= 1.8) {
      drops.push({ from: i, to: end, at: time[i]!, width: time[end]! - time[i - 1]! });
      i = end;
    }
  }
  if (drops.length < 3) return undefined;
  const gaps = new Float64Array(drops.length - 1);
  for (let k = 0; k < gaps.length; k += 1) gaps[k] = drops[k + 1]!.at - drops[k]!.at;
  const period = shortestCommonGap(gaps);
  if (period === undefined) return undefined;
  // A pulse that fell on a dark stretch is missed, so distances are whole multiples of the period.
  const regular = gaps.filter((gap) => {
    const times = Math.max(1, Math.round(gap / period));
    return Math.abs(gap - times * period) < 0.2 * period;
  });
  if (regular.length < 2 || regular.length < 0.7 * gaps.length) return undefined;
  const step = median(Float64Array.from(time.subarray(1), (t, i) => t - time[i]!));
  const keep = new Uint8Array(n).fill(1);
  const first = drops[0]!.at;
  for (const drop of drops) {
    const phase = (((drop.at - first) / period + 0.5) % 1) - 0.5;
    if (Math.abs(phase) > 0.35 && drops.length > 4) continue;
    // One reading more on each side: the meter averages over the moment the shutter moves.
    for (let i = Math.max(0, drop.from - 1); i <= Math.min(n - 1, drop.to + 1); i += 1) keep[i] = 0;
  }
  const width = median(Float64Array.from(drops, (drop) => drop.width)) - step;
  return { keep, found: { periodS: period, widthS: Math.max(width, step), pulses: drops.length } };
}

function shortestCommonGap(gaps: Float64Array): number | undefined {
  const sorted = Float64Array.from(gaps).sort();
  for (const candidate of sorted) {
    if (candidate < 1.5) continue;
    const alike = sorted.filter((gap) => Math.abs(gap - candidate) < 0.15 * candidate);
    if (alike.length >= Math.max(2, 0.4 * sorted.length)) return median(alike);
  }
  return undefined;
}
