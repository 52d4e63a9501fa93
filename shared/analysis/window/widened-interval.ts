import { percentileDeviation } from '../../numerics/robust.ts';
import { replicatesOf } from '../curve/bootstrap.ts';
import { addUncertainty } from '../curve/estimate.ts';
import type { FittedCurve } from '../curve/fit-curve.ts';
import { resolutionOf, roughNoise } from '../sweep/series/meter-noise.ts';
import { typicalMovement } from '../sweep/series/pairs.ts';
import type { PreparedSweep } from '../sweep/prepared-sweep.ts';
import { requiredShift } from '../sweep/required-signal.ts';
import { digitUncertainty } from './meter-uncertainty.ts';
import type { BetweenShapes } from './ends/between-shapes.ts';
import { sampleCurve } from './ends/curve-ends.ts';
import { fallsFartherOut } from './ends/highest-level.ts';
import { plotPressures, type SignalEnd, type SignalInterval } from './ends/signal-interval.ts';

/**
 * The same interval with what the meters leave open: pulses of a shutter, last digits, and an overload. Plateau in the signal's unit, ends in
 * pressure.
 */
export function withMeterUncertainty(
  interval: SignalInterval,
  sweep: PreparedSweep,
  fitted: FittedCurve,
): SignalInterval {
  const plateau = addUncertainty(interval.plateau, shadeUncertainty(sweep, interval), sweep.settings.confidence);
  return withOverload(withDigitUncertainty({ ...interval, plateau }, sweep, fitted), sweep, fitted);
}

/** What is not known of the pulses of a shutter moves the whole level: standard uncertainty of the plateau, in the signal's unit. */
const shadeUncertainty = ({ shade }: PreparedSweep, { plateau }: SignalInterval): number =>
  (shade?.u ?? 0) * Math.abs(plateau.value);

/** The same interval with what the choice among shapes leaves open. */
export function withShapeUncertainty(interval: SignalInterval, by: BetweenShapes, confidence: number): SignalInterval {
  const { low, high, plateau } = interval;
  const widen = (end: SignalEnd | undefined, u: number) =>
    end?.bounded && !end.flameLost ? { ...end, ...addUncertainty(end, u, confidence) } : end;
  return {
    ...interval,
    ...(low && { low: widen(low, by.low)! }),
    ...(high && { high: widen(high, by.high)! }),
    plateau: addUncertainty(plateau, by.plateau, confidence),
  };
}

/** The same interval, its plateau up to where the fitted curve goes on beyond an overload: the meter showed it to be at least its highest number. */
function withOverload(
  interval: SignalInterval,
  { sweep }: PreparedSweep,
  { curve, tested, replicates }: FittedCurve,
): SignalInterval {
  if (sweep.overloadTop === undefined) return interval;
  const { plateau } = interval;
  const beyond = sampleCurve({ ...curve, range: {} }, plotPressures(tested)).signal;
  // Two standard uncertainties (JCGM 100:2008, 6.3.3) of the height, which nothing but the shoulders tells.
  const u = percentileDeviation(replicatesOf(replicates, curve.layout.amplitude));
  const highest = beyond.reduce((a, b) => Math.max(a, b + 2 * u), plateau.ci[1]);
  return { ...interval, plateau: { ...plateau, ci: [plateau.ci[0], highest] } };
}

/** The same interval with the uncertainty that the last digits of manometer and signal meter leave. */
function withDigitUncertainty(
  interval: SignalInterval,
  sweep: PreparedSweep,
  { pairs, curve }: FittedCurve,
): SignalInterval {
  const { confidence } = sweep.settings;
  const { plateau, required } = interval;
  const pressureU = digitUncertainty(resolutionOf(sweep.pressure.value), typicalMovement(pairs));
  // At the end of the meter's range no noise dithers its last digit.
  const noise = curve.range.top === undefined ? roughNoise(sweep.usableSignal) : 0;
  const signalU = digitUncertainty(resolutionOf(sweep.usableSignal.value), noise);
  // A share of a plateau that is known to a digit only moves the ends along their shoulders.
  const requiredU = requiredShift(required, plateau.value, signalU);
  const widen = (side: 'low' | 'high') => {
    const end = interval[side];
    if (!end?.bounded) return {};
    const along = end.flameLost ? 0 : fallsFartherOut(interval.curve, end.value, side, required.value, requiredU);
    return { [side]: { ...end, ...addUncertainty(end, Math.hypot(pressureU, along), confidence) } };
  };
  return {
    ...interval,
    ...widen('low'),
    ...widen('high'),
    plateau: addUncertainty(plateau, signalU, confidence),
  };
}
