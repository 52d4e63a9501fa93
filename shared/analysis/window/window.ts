import type { AnalysisDetail, Cause, IntervalStatus, WindowEnd } from '../../model/analysis-result.ts';
import { formatPressure } from '../../model/format.ts';
import { normalQuantile } from '../../numerics/distributions.ts';
import type { PressureUnit } from '../../model/units.ts';
import type { Dip } from './dips.ts';
import type { LightOff } from './light-off.ts';
import type { SignalEnd, SignalInterval } from './signal-interval.ts';
import type { UnsteadyEnd } from './steadiness.ts';
import { combineUncertainty } from '../../numerics/uncertainty.ts';

export type Evidence = AnalysisDetail['evidence'][number];

/** One reason for an end, with the standard uncertainty of its place. */
interface Reason {
  cause: Cause;
  value: number;
  ci: [number, number];
  uncertainty: number;
  message: string;
}

export interface Window {
  status: IntervalStatus;
  low?: WindowEnd;
  high?: WindowEnd;
  /** Standard uncertainty of both ends (fit and meters), when there is a window. */
  uncertainty?: { low: number; high: number };
  evidence: Evidence[];
}

/** Everything that may bound the window; pressures in the capture's unit. */
export interface Bounds {
  unit: PressureUnit;
  interval: SignalInterval;
  unsteady: UnsteadyEnd[];
  dip: Dip | undefined;
  lightOff: LightOff | undefined;
  makerRange: { low: number; high: number } | undefined;
  /** At which the intervals of `interval` hold. */
  confidence: number;
  /** Standard uncertainty of the manometer at a pressure. */
  pressureU: (pressure: number) => number;
  /** Standard uncertainty of the required signal against the measured one. */
  signalU: number;
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

/** What the fit leaves in doubt of an end: its deviation, or what the inward half of its interval stands for if that is more. */
function fitUncertainty(side: 'low' | 'high', end: SignalEnd, confidence: number): number {
  const inward = side === 'low' ? end.ci[1] - end.value : end.value - end.ci[0];
  const implied = inward / normalQuantile((1 + confidence) / 2);
  return Math.max(Number.isFinite(end.deviation) ? end.deviation : 0, implied);
}

function reasonsFor(side: 'low' | 'high', end: SignalEnd, bounds: Bounds): Reason[] {
  const { unit, makerRange, lightOff } = bounds;
  const show = (pressure: number) => formatPressure(pressure, unit);
  const manometer = (value: number) => bounds.pressureU(value);
  const beyond = side === 'low' ? 'below' : 'above';
  const reasons: Reason[] = [];

  if (!end.bounded) {
    reasons.push({
      cause: 'tested-end',
      value: end.value,
      ci: end.ci,
      uncertainty: manometer(end.value),
      message: `The sweep ended at ${show(end.value)} with the signal still good. Nothing is known ${beyond} that.`,
    });
  } else {
    const bySlope = end.slope !== 0 ? bounds.signalU / Math.abs(end.slope) : 0;
    reasons.push({
      cause: end.flameLost ? 'flame-lost' : 'signal',
      value: end.value,
      ci: end.ci,
      // The deviation of the fit is enlarged already for its few degrees, so that k = 2 may stand for all.
      uncertainty: combineUncertainty(
        [fitUncertainty(side, end, bounds.confidence), manometer(end.value), bySlope].map((u) => ({
          u,
          degrees: Infinity,
        })),
      ).u,
      message: end.flameLost
        ? `The flame was lost at ${show(end.value)}.`
        : `The steady signal falls under what is required ${beyond} ${show(end.value)}.`,
    });
  }

  const { dip } = bounds;
  // A dip scatters by itself: readings of its sides and of its bottom lie in one slice.
  const inDip = (p: number) => dip !== undefined && p >= dip.from - dip.margin && p <= dip.to + dip.margin;
  const unsteady = bounds.unsteady.find((found) => found.side === side && !inDip(found.value));
  if (unsteady)
    reasons.push({
      cause: 'unsteady',
      value: unsteady.value,
      ci: [unsteady.value, unsteady.value],
      uncertainty: manometer(unsteady.value),
      message: `The signal is unsteady ${beyond} ${show(unsteady.value)}: it scatters several times as much as on the plateau.`,
    });

  if (dip?.side === side)
    reasons.push({
      cause: 'signal',
      value: dip.value,
      ci: [dip.from, dip.to],
      uncertainty: manometer(dip.value),
      message: `Between ${show(dip.from)} and ${show(dip.to)} the signal dips below what is required, though it is good on both sides.`,
    });

  const trial = lightOff?.[side];
  if (trial)
    reasons.push({
      cause: 'light-off',
      value: trial.value,
      ci: side === 'low' ? [trial.failure, trial.value] : [trial.value, trial.failure],
      uncertainty: manometer(trial.value),
      message: `It lit at ${show(trial.value)} and failed to light at ${show(trial.failure)}.`,
    });

  if (makerRange) {
    const value = makerRange[side];
    reasons.push({
      cause: 'maker-range',
      value,
      ci: [value, value],
      uncertainty: manometer(value),
      message: `The maker's range ${side === 'low' ? 'begins' : 'ends'} at ${show(value)}.`,
    });
  }
  return reasons;
}
