import { exp } from '../../numerics/elementary.ts';

/**
 * Pressures below which gas is taken for shut, inH2O, and how probable each is. Several while the fan-only pressure is not known: the
 * readings decide among them.
 */
export interface Thresholds {
  values: readonly number[];
  weights: Float64Array;
}

/**
 * A gauge with its hose on the wrong side, or its zero far off, may read less than a fan alone gives while gas flows; then no pressure
 * means that gas is shut. One visit in a thousand (practice): a valve that is seen to open or to shut rules it out within a reading.
 */
const readsLow = { threshold: -Infinity, share: 0.001 };

const withGaugeReadingLow = (values: number[], weights: number[]): Thresholds => ({
  values: [readsLow.threshold, ...values],
  weights: Float64Array.of(readsLow.share, ...weights.map((weight) => (1 - readsLow.share) * weight)),
});

/** Thresholds when nobody has entered a fan-only pressure: mostly below 0.5 inH2O (common practice), seldom up to 1. */
export function openThresholds(): Thresholds {
  const values = [0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.9, 1.2];
  const raw = values.map((value, i) => exp(-((value / 0.35) ** 2) / 2) * (value - (values[i - 1] ?? 0)));
  const sum = raw.reduce((total, weight) => total + weight, 0);
  return withGaugeReadingLow(
    values,
    raw.map((weight) => weight / sum),
  );
}

/** The threshold that belongs to an entered fan-only pressure: a margin of 0.06 inH2O or a tenth above it covers drift and meter. */
export const knownThreshold = (fanOnly: number): Thresholds =>
  withGaugeReadingLow([fanOnly + Math.max(0.06, 0.1 * fanOnly)], [1]);
