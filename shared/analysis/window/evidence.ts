import type { Cause } from '../../model/analysis-result.ts';
import { formatPressure } from '../../model/format.ts';
import type { PressureUnit } from '../../model/units.ts';
import { normalQuantile } from '../../numerics/distributions.ts';
import { combineUncertainty } from '../../numerics/uncertainty.ts';
import type { Dip } from './dips.ts';
import type { LightOff } from './light-off.ts';
import type { SignalEnd, SignalInterval } from './signal-interval.ts';
import type { UnsteadyEnd } from './steadiness.ts';

/** One reason for an end, with the standard uncertainty of its place. */
export interface Reason {
  cause: Cause;
  value: number;
  ci: [number, number];
  uncertainty: number;
  message: string;
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

/** What the fit leaves in doubt of an end: its deviation, or what the inward half of its interval stands for if that is more. */
function fitUncertainty(side: 'low' | 'high', end: SignalEnd, confidence: number): number {
  const inward = side === 'low' ? end.ci[1] - end.value : end.value - end.ci[0];
  const implied = inward / normalQuantile((1 + confidence) / 2);
  return Math.max(Number.isFinite(end.deviation) ? end.deviation : 0, implied);
}

export function reasonsFor(side: 'low' | 'high', end: SignalEnd, bounds: Bounds): Reason[] {
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
