import { exp } from '../../numerics/elementary.ts';

/**
 * Pressures below which gas is taken for shut, inH2O, and how probable each is. Several while the fan-only pressure is not known: the
 * readings decide among them.
 */
export interface Thresholds {
  values: readonly number[];
  weights: Float64Array;
}

/** Thresholds when nobody has entered a fan-only pressure: mostly below 0.5 inH2O (common practice), seldom up to 1. */
export function openThresholds(): Thresholds {
  const values = [0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.9, 1.2];
  const raw = values.map((value, i) => exp(-((value / 0.35) ** 2) / 2) * (value - (values[i - 1] ?? 0)));
  const sum = raw.reduce((total, weight) => total + weight, 0);
  return { values, weights: Float64Array.from(raw, (weight) => weight / sum) };
}

/** The one threshold that belongs to an entered fan-only pressure: a margin of 0.06 inH2O or a tenth above it covers drift and meter. */
export const knownThreshold = (fanOnly: number): Thresholds => ({
  values: [fanOnly + Math.max(0.06, 0.1 * fanOnly)],
  weights: Float64Array.of(1),
});

/**
 * Thresholds that a capture's pressures can tell apart. Those between which hardly a reading lies say the same of all of them; they are
 * taken together, at the most probable of them.
 */
export function toldApart({ values, weights }: Thresholds, bins: readonly { pressure?: number }[]): Thresholds {
  const groups: { threshold: number; weight: number; most: number; last: number }[] = [];
  values.forEach((threshold, h) => {
    const weight = weights[h]!;
    const group = groups.at(-1);
    if (group && !isBetween(bins, group.last, threshold)) {
      group.last = threshold;
      group.weight += weight;
      if (weight > group.most) [group.threshold, group.most] = [threshold, weight];
    } else groups.push({ threshold, weight, most: weight, last: threshold });
  });
  return {
    values: groups.map(({ threshold }) => threshold),
    weights: Float64Array.from(groups, ({ weight }) => weight),
  };
}

/** Whether more than one reading in two hundred lies between two thresholds or close to them: a valve passes through in a few. */
function isBetween(bins: readonly { pressure?: number }[], low: number, high: number): boolean {
  let count = 0;
  for (const { pressure } of bins)
    if (pressure !== undefined && pressure > low - 0.03 && pressure < high + 0.06) count += 1;
  return count > bins.length / 200;
}
