import { quantileSorted } from '../../numerics/descriptive.ts';
import { normalQuantile, studentQuantile } from '../../numerics/distributions.ts';
import { percentileDeviation } from '../../numerics/robust.ts';
import { combineUncertainty, type Component } from '../../numerics/uncertainty.ts';

/**
 * A value with what its replicates say of it. `deviation` is its standard uncertainty from the fit, enlarged for the few
 * degrees it was found with; `plain` the same before that, with its degrees, for joining with others.
 */
export interface Estimate {
  value: number;
  deviation: number;
  plain: Component;
  ci: [number, number];
}

/**
 * Interval of a value from its replicates: percentiles, widened by the ratio of Student's to the normal quantile, since
 * only a few independent stretches of a sweep carry an edge. Without bounds where hardly a replicate has such a value.
 *
 * @param degrees  how many independent stretches, less the parameters they bear
 */
export function bootstrapInterval(
  value: number,
  replicates: Float64Array,
  confidence: number,
  degrees: number,
): Estimate {
  const p = (1 + confidence) / 2;
  const studentRatio = studentQuantile(p, Math.max(1, degrees)) / normalQuantile(p);
  const off = replicates.filter(Number.isFinite).map((r) => (r - value) * studentRatio);
  off.sort();
  if (off.length < 20) {
    const unknown = { u: Number.NaN, degrees: Infinity };
    return { value, deviation: Number.NaN, plain: unknown, ci: [-Infinity, Infinity] };
  }
  const at = (q: number) => quantileSorted(off, q);
  const standardError = percentileDeviation(off);
  const component = { u: standardError / studentRatio, degrees: Math.max(1, degrees) };
  return {
    value,
    deviation: standardError,
    plain: component,
    ci: [value + Math.min(0, at(1 - p)), value + Math.max(0, at(p))],
  };
}

/** The same value with an independent standard uncertainty `u` joined in quadrature (JCGM 100:2008, 5.1.2). */
export function addUncertainty(known: Estimate, u: number, confidence: number): Estimate {
  const reach = normalQuantile((1 + confidence) / 2) * u;
  return {
    value: known.value,
    deviation: Math.hypot(known.deviation, u),
    plain: combineUncertainty([known.plain, { u, degrees: Infinity }]),
    ci: [
      known.value - Math.hypot(known.value - known.ci[0], reach),
      known.value + Math.hypot(known.ci[1] - known.value, reach),
    ],
  };
}

/** An end that is where the test ended: known, but no end of the flame's. */
export const exactEstimate = (value: number): Estimate => ({
  value,
  deviation: 0,
  plain: combineUncertainty([]),
  ci: [value, value],
});
