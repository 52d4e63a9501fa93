import type { AnalysisDetail, Cause, IntervalStatus, WindowEnd } from '../../model/analysis-result.ts';
import { type Bounds, type Reason, reasonsFor } from './evidence.ts';

export type Evidence = AnalysisDetail['evidence'][number];

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
 * `guarded` is that end moved inwards by its expanded uncertainty U = k u with k = 2, u combined in quadrature from the
 * fit, the manometer, and the signal meter through the slope of the curve there. Where the fit doubts the inward side more
 * than the outward, the inward side counts.
 * Sources: JCGM 100:2008 (GUM) 5.1.2 and 6.2.1; JCGM 106:2012, 8.3.2 (guarded acceptance).
 */
export function findWindow(bounds: Bounds): Window {
  const { interval } = bounds;
  if (!interval.low || !interval.high) return { status: 'none', evidence: [] };
  const low = reasonsFor('low', interval.low, bounds);
  const high = reasonsFor('high', interval.high, bounds);
  const lowest = low.reduce((a, b) => (b.value > a.value ? b : a));
  const highest = high.reduce((a, b) => (b.value < a.value ? b : a));
  const evidence = [
    ...low.map((reason) => asEvidence('low', reason, reason === lowest)),
    ...high.map((reason) => asEvidence('high', reason, reason === highest)),
  ];
  // A pilot that was tried and never lit has no window, whatever its signal.
  if (lowest.value >= highest.value || bounds.lightOff?.neverLit) return { status: 'none', evidence };
  const guard = [lowest.value + 2 * lowest.uncertainty, highest.value - 2 * highest.uncertainty] as const;
  // When doubt is wider than the window the guarded ends meet between the ends instead of crossing.
  const middle = Math.min(highest.value, Math.max(lowest.value, (guard[0] + guard[1]) / 2));
  const crossed = guard[0] > guard[1];
  return {
    status: statusFromCauses(lowest.cause, highest.cause),
    low: { value: lowest.value, ci: lowest.ci, guarded: crossed ? middle : guard[0], cause: lowest.cause },
    high: { value: highest.value, ci: highest.ci, guarded: crossed ? middle : guard[1], cause: highest.cause },
    uncertainty: { low: lowest.uncertainty, high: highest.uncertainty },
    evidence,
  };
}

function statusFromCauses(low: Cause, high: Cause): IntervalStatus {
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
