import type { Cause } from '../../model/results/analysis-result.ts';
import { formatPressure } from '../../model/format.ts';
import type { PressureUnit } from '../../model/units.ts';
import { normalQuantile } from '../../numerics/distributions.ts';
import { combineUncertainty } from '../../numerics/uncertainty.ts';
import type { Estimate } from '../curve/estimate.ts';
import type { Dip } from './diagnostics/dips.ts';
import type { FlameHysteresis } from './losses/flame-hysteresis.ts';
import type { LightOff } from './light-off.ts';
import type { SignalEnd, SignalInterval } from './ends/signal-interval.ts';
import type { RepeatedLosses } from '../sweep/flame/repeated-losses.ts';
import type { UnsteadyEnd } from './diagnostics/steadiness.ts';

/** One reason for an end, with its interval and the standard uncertainty of its place; in the capture's unit of pressure. */
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
  repeatedLosses: RepeatedLosses | undefined;
  dip: Dip | undefined;
  flameHysteresis: readonly FlameHysteresis[];
  lightOff: LightOff | undefined;
  /** How far out the pilot is estimated to light as often as wanted, where the trials show that it lights less often farther out. */
  lightingReach: { low?: number; high?: number };
  makerRange: { low: number; high: number } | undefined;
  /** Of the intervals of `interval`. */
  confidence: number;
  /** Standard uncertainty of the manometer at a pressure. */
  pressureU: (pressure: number) => number;
  /** Standard uncertainty of the measured signal against the required one, in the signal's unit. */
  signalU: number;
}

/** Every reason for an end on one side: the signal's first, then whatever else bounds it. */
export function reasonsFor(side: 'low' | 'high', end: SignalEnd, bounds: Bounds): Reason[] {
  const { unit, makerRange, dip, lightOff, pressureU } = bounds;
  const show = (pressure: number) => formatPressure(pressure, unit);
  const beyond = side === 'low' ? 'below' : 'above';
  const repeated = bounds.repeatedLosses?.side === side ? bounds.repeatedLosses : undefined;
  // Where the flame drops out again and again, no steady flame was seen farther out, however far the sweep went.
  const reasons: Reason[] = repeated && !end.bounded ? [] : [signalReason(side, end, bounds)];

  // A dip scatters by itself: readings of its flanks and of its bottom lie in one slice.
  const isInDip = (p: number) => dip !== undefined && p >= dip.from - dip.margin && p <= dip.to + dip.margin;
  const unsteady = bounds.unsteady.find((one) => one.side === side && !isInDip(one.value));
  if (unsteady)
    reasons.push({
      cause: 'unsteady',
      value: unsteady.value,
      ci: unsteady.ci,
      // Anywhere between (rectangle, JCGM 100:2008 4.3.7).
      uncertainty: Math.hypot((unsteady.ci[1] - unsteady.ci[0]) / Math.sqrt(12), pressureU(unsteady.value)),
      message: `The signal is unsteady ${beyond} ${show(unsteady.value)}: it scatters several times as much as on the plateau.`,
    });

  if (repeated) {
    const inner = side === 'low' ? Math.max : Math.min;
    const value = end.bounded ? repeated.innermost : inner(repeated.innermost, end.value);
    const farthest = inner(repeated.farthest, value);
    reasons.push({
      cause: 'unsteady',
      value,
      ci: side === 'low' ? [value, farthest] : [farthest, value],
      // How far in it goes on is exponentially distributed: three deviations to its 95 % point.
      uncertainty: Math.hypot((farthest - value) / 3, pressureU(value)),
      message: `The flame drops out ${beyond} ${show(value)} and comes back by itself: ${repeated.losses.length} times.`,
    });
  }

  if (dip?.side === side)
    reasons.push({
      cause: 'signal',
      value: dip.value,
      ci: [dip.from, dip.to],
      uncertainty: pressureU(dip.value),
      message: `Between ${show(dip.from)} and ${show(dip.to)} the signal dips below what is required, though it is good on both sides.`,
    });

  for (const { returned, lostAt, isAtRest } of bounds.flameHysteresis.filter((each) => each.side === side))
    reasons.push({
      cause: 'flame-lost',
      value: returned.value,
      ci: returned.ci,
      uncertainty: Math.hypot(fitUncertainty(side, returned, bounds.confidence), pressureU(returned.value)),
      message: isAtRest
        ? `The flame was lost at ${show(lostAt)} and came back at ${show(returned.value)} with the regulator at rest: by itself, or by a spark that is not on record.`
        : `The flame was lost at ${show(lostAt)} and came back by itself at ${show(returned.value)}.`,
    });

  const trial = lightOff?.[side];
  if (trial)
    reasons.push({
      cause: 'light-off',
      value: trial.value,
      ci: side === 'low' ? [trial.failure, trial.value] : [trial.value, trial.failure],
      uncertainty: pressureU(trial.value),
      message: `It lit at ${show(trial.value)} and failed to light at ${show(trial.failure)}.${reachWords(bounds.lightingReach[side], beyond, show)}`,
    });

  if (makerRange) {
    const value = makerRange[side];
    reasons.push({
      cause: 'maker-range',
      value,
      ci: [value, value],
      uncertainty: pressureU(value),
      message: `The maker's range ${side === 'low' ? 'begins' : 'ends'} at ${show(value)}.`,
    });
  }
  return reasons;
}

/** Why the guarded end may lie farther inside than the manometer asks for. */
const reachWords = (reach: number | undefined, beyond: string, show: (pressure: number) => string): string =>
  reach === undefined
    ? ''
    : ` By all trials together it lights less often than wanted ${beyond} ${show(reach)}, so the guarded end lies inside that.`;

/** The end that the signal itself gives, or the end of the test where it stayed good. */
function signalReason(side: 'low' | 'high', end: SignalEnd, bounds: Bounds): Reason {
  const { unit, confidence, pressureU, signalU } = bounds;
  const at = formatPressure(end.value, unit);
  const beyond = side === 'low' ? 'below' : 'above';
  const place = { value: end.value, ci: end.ci };
  if (!end.bounded)
    return {
      ...place,
      cause: 'tested-end',
      uncertainty: pressureU(end.value),
      message: `The signal is still good at ${at}, the last pressure at which a flame was seen. Nothing is known ${beyond} that.`,
    };
  // What the signal meter is wrong by moves the end by that divided by the slope of the curve there.
  const bySlope = end.slope !== 0 ? signalU / Math.abs(end.slope) : 0;
  // The standard error of the fit is enlarged already for its few degrees of freedom, so that k = 2 may stand for all.
  const components = [fitUncertainty(side, end, confidence), pressureU(end.value), bySlope];
  return {
    ...place,
    cause: end.flameLost ? 'flame-lost' : 'signal',
    uncertainty: combineUncertainty(components.map((u) => ({ u, degrees: Infinity }))).u,
    message: end.flameLost
      ? `The flame was lost at ${at}.`
      : `${side === 'low' ? 'Below' : 'Above'} ${at} the steady signal is less than required.`,
  };
}

/**
 * Standard uncertainty of an end from the fit: its standard error, or what the inward half of its interval implies if that is
 * more.
 */
function fitUncertainty(side: 'low' | 'high', end: Estimate, confidence: number): number {
  const inward = side === 'low' ? end.ci[1] - end.value : end.value - end.ci[0];
  const implied = inward / normalQuantile((1 + confidence) / 2);
  return Math.max(Number.isFinite(end.standardError) ? end.standardError : 0, implied);
}
