import { quantile } from '../../numerics/descriptive.ts';
import { normalQuantile, studentQuantile } from '../../numerics/distributions.ts';
import { percentileDeviation } from '../../numerics/robust.ts';
import { combineUncertainty, type Component } from '../../numerics/uncertainty.ts';

/** Coverage factor of an expanded uncertainty: about 95 % (JCGM 100:2008, 6.3.3). */
export const coverage = 2;

/** A value with its standard error and its two-sided interval, in the value's unit. */
export interface Estimate {
  value: number;
  /** Standard uncertainty, enlarged for the few degrees of freedom it was found with, so that a coverage factor of 2 fits. */
  standardError: number;
  /** The same before it was enlarged, with its degrees of freedom: for combining with other components. */
  component: Component;
  ci: [number, number];
}

/** Fewer replicates than this that have such a value at all say nothing of its spread. */
const minReplicates = 20;

/**
 * Interval of a value from its bootstrap replicates: percentiles, widened by the ratio of Student's to the normal quantile,
 * since only a few independent blocks of a sweep carry an end. Unbounded where hardly a replicate has such a value.
 * Source: Hesterberg 2015, The American Statistician 69, 371 (expanded percentile interval).
 *
 * @param replicates  the value in each replicate; NaN where it has none
 * @param confidence  two-sided
 * @param degrees     degrees of freedom, taken as at least 1
 */
export function bootstrapInterval(
  value: number,
  replicates: Float64Array,
  confidence: number,
  degrees: number,
): Estimate {
  const p = (1 + confidence) / 2;
  const studentRatio = studentQuantile(p, Math.max(1, degrees)) / normalQuantile(p);
  const deviations = finiteDeviations(replicates, value, studentRatio);
  if (deviations.length < minReplicates) {
    const unknown = { u: Number.NaN, degrees: Infinity };
    return { value, standardError: Number.NaN, component: unknown, ci: [-Infinity, Infinity] };
  }
  const at = (q: number) => quantile(deviations, q);
  const standardError = percentileDeviation(deviations);
  return {
    value,
    standardError,
    component: { u: standardError / studentRatio, degrees: Math.max(1, degrees) },
    ci: [value + Math.min(0, at(1 - p)), value + Math.max(0, at(p))],
  };
}

/** By how much the replicates that have a value differ from this one, times a ratio. */
function finiteDeviations(replicates: Float64Array, value: number, ratio: number): Float64Array {
  const deviations = new Float64Array(replicates.length);
  let n = 0;
  for (let i = 0; i < replicates.length; i += 1) {
    const replicate = replicates[i]!;
    if (Number.isFinite(replicate)) deviations[n++] = (replicate - value) * ratio;
  }
  return deviations.subarray(0, n);
}

/**
 * The same value with an independent standard uncertainty added in quadrature (JCGM 100:2008, 5.1.2).
 *
 * @param u  standard uncertainty in the value's unit, at least 0
 */
export function addUncertainty(estimate: Estimate, u: number, confidence: number): Estimate {
  const { value, ci } = estimate;
  const half = normalQuantile((1 + confidence) / 2) * u;
  return {
    value,
    standardError: Math.hypot(estimate.standardError, u),
    component: combineUncertainty([estimate.component, { u, degrees: Infinity }]),
    ci: [value - Math.hypot(value - ci[0], half), value + Math.hypot(ci[1] - value, half)],
  };
}

/** A value without uncertainty, such as the pressure at which the sweep ended. */
export const exactEstimate = (value: number): Estimate => ({
  value,
  standardError: 0,
  component: combineUncertainty([]),
  ci: [value, value],
});
