import type { AnalysisDetail, Cause, IntervalStatus, WindowEnd } from '../../model/results/analysis-result.ts';
import { type Bounds, type Reason, reasonsFor } from './evidence.ts';
import { coverage } from '../curve/estimate.ts';

/** One piece of evidence for an end of the window; `sets`: it is the one that set the end. */
export type Evidence = AnalysisDetail['evidence'][number];

/** The window of pressures in the capture's unit; without ends when there is none. */
export interface Window {
  status: IntervalStatus;
  low?: WindowEnd;
  high?: WindowEnd;
  /** Standard uncertainty of both ends (fit and meters), when there is a window. */
  uncertainty?: { low: number; high: number };
  evidence: Evidence[];
}

/**
 * The window: on each side the innermost end that any evidence gives.
 *
 * Each piece of evidence is guarded: moved inward, and outward, by its expanded uncertainty U = k u with k = 2, u combined in quadrature from the
 * fit, the manometer, and the signal meter through the slope of the curve there. Where the interval of the fit reaches further
 * inward than outward, its inward half counts. `guarded` is the innermost of these, `guardedBy` its cause: vague evidence farther
 * out may ask for more distance than exact evidence that sets the end. The lighting model sets no end; it may narrow a guarded one.
 * Sources: JCGM 100:2008 (GUM) 5.1.2 and 6.2.1; JCGM 106:2012, 8.3.2 (guarded acceptance).
 */
export function findWindow(bounds: Bounds): Window {
  const { interval } = bounds;
  if (!interval.low || !interval.high) return { status: 'none', evidence: [] };
  const lowReasons = reasonsFor('low', interval.low, bounds);
  const highReasons = reasonsFor('high', interval.high, bounds);
  const low = lowReasons.reduce((a, b) => (b.value > a.value ? b : a));
  const high = highReasons.reduce((a, b) => (b.value < a.value ? b : a));
  const evidence = [
    ...lowReasons.map((reason) => asEvidence('low', reason, reason === low)),
    ...highReasons.map((reason) => asEvidence('high', reason, reason === high)),
  ];
  // A pilot that was tried and never lit has no window, whatever its signal.
  if (low.value >= high.value || bounds.lightOff?.neverLit) return { status: 'none', evidence };
  const guardedOf = (by: 1 | -1) => (reason: Reason) => ({
    value: reason.value + by * coverage * reason.uncertainty,
    cause: reason.cause,
  });
  const innerLow = [...lowReasons.map(guardedOf(1)), ...guardedReach('low', bounds)].reduce((a, b) =>
    b.value > a.value ? b : a,
  );
  const innerHigh = [...highReasons.map(guardedOf(-1)), ...guardedReach('high', bounds)].reduce((a, b) =>
    b.value < a.value ? b : a,
  );
  const guarded = { low: innerLow.value, high: innerHigh.value };
  const outward = {
    low: Math.max(...lowReasons.map((reason) => guardedOf(-1)(reason).value)),
    high: Math.min(...highReasons.map((reason) => guardedOf(1)(reason).value)),
  };
  // Where the uncertainty is wider than the window the guarded ends meet between the ends instead of crossing.
  const middle = Math.min(high.value, Math.max(low.value, (guarded.low + guarded.high) / 2));
  const cross = guarded.low > guarded.high;
  return {
    status: windowStatus(low.cause, high.cause),
    low: {
      value: low.value,
      ci: low.ci,
      guarded: cross ? middle : guarded.low,
      guardedOutward: outward.low,
      cause: low.cause,
      guardedBy: innerLow.cause,
    },
    high: {
      value: high.value,
      ci: high.ci,
      guarded: cross ? middle : guarded.high,
      guardedOutward: outward.high,
      cause: high.cause,
      guardedBy: innerHigh.cause,
    },
    uncertainty: { low: low.uncertainty, high: high.uncertainty },
    evidence,
  };
}

/** Where the lighting model ends, moved inward by what the manometer leaves open. */
const guardedReach = (
  side: 'low' | 'high',
  { lightingReach, pressureU }: Bounds,
): { value: number; cause: Cause }[] => {
  const reach = lightingReach[side];
  if (reach === undefined) return [];
  return [{ value: reach + (side === 'low' ? 1 : -1) * coverage * pressureU(reach), cause: 'light-off' }];
};

/** An end that only the end of the test set is open. */
function windowStatus(low: Cause, high: Cause): IntervalStatus {
  const openLow = low === 'tested-end';
  const openHigh = high === 'tested-end';
  if (openLow && openHigh) return 'open-both';
  return openLow ? 'open-low' : openHigh ? 'open-high' : 'bounded';
}

const asEvidence = (side: 'low' | 'high', reason: Reason, sets: boolean): Evidence => ({
  side,
  cause: reason.cause,
  value: reason.value,
  ci: reason.ci,
  message: reason.message,
  sets,
});
