import { exp } from '../../numerics/elementary.ts';
import { createDecays, laplace, logistic, normal } from './densities.ts';

/** One reading of the manometer with what came before it. Pressures in inH2O, seconds. */
export interface PressureStep {
  value: number;
  /** The reading before; equal to `value` for the first. */
  before: number;
  sinceS: number;
  /** Standard deviation of the manometer's noise. */
  noise: number;
  /** Last digit of the manometer; Infinity before a step of it was seen. */
  digit?: number;
  /** How fast a hand was seen to turn the regulator that goes on, inH2O a second; 0 at rest, and where a valve may look the same. */
  goesOnPerS?: number;
  /** Pressure while gas was last shut; undefined before that was seen. */
  shut?: number | undefined;
  /** By how much the pressure has risen within `damperS`, or since the reading before, inH2O. */
  roseBy?: number;
  /** The lowest pressure within `fanStartsS`, inH2O. */
  lowest?: number | undefined;
  /** A flame burned some seconds ago, and gas is not known to have been shut since. */
  isAfterFlame?: boolean;
}

/** Density of a reading for each state of the gas but `unknown`, in the order of `gasStates`, then for `lostGas`, `litGas`, `risingGas`, `moreAir` and `shutUnderSignal`, per inH2O. */
export type GasDensities = Float64Array;
/**
 * Places in `GasDensities` of gas that flows and was lit, so that the signal showed it too, of gas that feeds a flame, and of gas that is
 * seen to come on: a flame says no more of the valve than that gas flows. Then of shut gas while the fan moves more air than at light-off, and
 * while the signal is that of a flame: such gas must stand where it was seen to stand.
 */
export const lostGas = 4;
export const litGas = 5;
export const risingGas = 6;
export const moreAir = 7;
export const shutUnderSignal = 8;
/** That gas stands higher than it was seen to makes it this much less probable, reading by reading, that it is shut under a signal. */
const seldomHigher = 0.02;

/** Below no reading: one wild number must not rule a state out for good. Per inH2O. */
const floor = 1e-4;
/**
 * A gauge that does not show the gas that flows (hose off or on the wrong side) goes on not to: low pressure speaks for shut gas by this
 * power of e in each second, however often it is read, so that a flame that is seen to burn outweighs it.
 */
const unseenPerS = 4;
/**
 * Gas that is shut under a flame falls to where it stood before the flame: that it stands higher speaks against shut gas by this power of
 * e in each second. No more once gas is known to be shut, nor for ever: the fan may change its speed.
 */
const higherPerS = 1;
/** A logistic share that is whole beyond two and a half widths: what hardly speaks for a threshold must not decide by being read a thousand times. */
const share = (widths: number): number => (widths > 2.5 ? 1 : widths < -2.5 ? 0 : logistic(widths));
/** Whether a pressure is higher than that of shut gas, 0 to 1, by more than drift and meter explain. inH2O. */
const higherThan = (value: number, shut: number): number => share((value - shut - Math.max(0.06, 0.1 * shut)) / 0.012);
/** A flame takes some flow: no pilot burns this close above the pressure below which gas is taken for shut, inH2O (common practice). */
const leastForFlame = 0.1;
/** A technician turns the regulator by about this much in a second, inH2O, in a careful sweep or in a hurry; a valve is ten times as fast. */
const turningPerS = [0.1, 0.5] as const;
/**
 * A meter at rest whose last digit is coarser than its noise shows the same reading for long, and now and then goes over to the next one
 * and back: in this share of its readings.
 */
const turnsOver = 0.1;
/** A digit counts as coarse beyond so many deviations of the noise, and up to so many inH2O: a step of more is none of the last digit. */
const coarseFrom = 4;
const coarsestDigit = 0.1;
/** The last digit of a meter that is coarser than its noise, inH2O; 0 of one that shows its noise. */
const coarseDigit = ({ noise, digit = Infinity }: PressureStep): number =>
  digit < coarseFrom * noise || digit >= coarsestDigit ? 0 : digit;
/** Density of a change between two readings of a pressure that stands still, per inH2O. */
function atRest(change: number, step: PressureStep): number {
  const still = Math.SQRT2 * step.noise;
  const digit = coarseDigit(step);
  if (digit === 0) return normal(change, still);
  return (1 - turnsOver) * normal(change, still) + turnsOver * 0.5 * normal(Math.abs(change) - digit, still);
}
/**
 * A fan that runs up raises the pressure of shut gas by at most about this much in a second, inH2O (common practice: a second or more to
 * full speed). A reading that rose faster is this much less probable while gas is shut.
 */
const fanPerS = 0.3;
const fasterThanFan = 0.05;
/**
 * Air of a purge raises the pressure of shut gas above that of light-off by this much in the mean, inH2O, and to no more than so many times
 * as much (common practice): what comes on higher is gas, however slowly.
 */
const moreAirBy = 0.4;
const mostAir = (threshold: number): number => Math.max(threshold + 0.4, 3 * threshold);
/**
 * A damper takes some seconds to half a minute, and raises the pressure by at most this much in a second, inH2O (common practice). What
 * rose by more is air less probably by this power of e in each second.
 */
const damperPerS = 0.12;
const fasterThanDamperPerS = 15;
/** So far back a rise is looked for, and a fan at rest, seconds. A fan that starts is faster than a damper. */
export const damperS = 1;
export const fanStartsS = 4;
const fanAtRest = 0.05;
/** A fan that hardly shows at light-off hardly shows in a purge: no air where gas that is shut stands below this, inH2O. */
export const leastForAir = 0.1;
/** A valve that opens lets the pressure rise as slowly as a damper once in so many times; one that shuts lets it fall so slowly in one reading of ten. */
const seldomSoSlow = 200;
const slowlyShut = 0.1;
/** Air that is back where it stands at light-off is no more than that: this makes up for how seldom the state ends. */
const surelyBack = 1000;
/** Air may begin so many widths of the edge below it. */
const edgeWidths = 4;
/**
 * Seconds in which the pressure falls to 1/e once the valve shuts, from a solenoid with a quick manometer to a leaking one, and how
 * probable each is. A hand that turns the regulator down looks like the last, so it must stay improbable.
 */
const closingTimes = [
  { seconds: 0.1, probability: 0.3 },
  { seconds: 0.3, probability: 0.3 },
  { seconds: 0.8, probability: 0.3 },
  { seconds: 2.5, probability: 0.1 },
];
const leftAfter = createDecays(closingTimes.map(({ seconds }) => seconds));

/** Where the pressure may come to rest once the valve has shut, before that was seen: the threshold lies a margin above it, inH2O. */
const restsBelow = (threshold: number): [number, number] => [Math.max(0, threshold - 0.05), 0.75 * threshold];

/**
 * Probability density of a reading of the manometer, given the one before, for each state of the gas, per inH2O.
 *
 * With gas shut the pressure stands at or below `threshold` (the fan-only pressure and a margin), flowing gas stands above it and moves
 * as a hand turns the regulator; an opening valve lets it rise, a closing one lets it fall towards the fan-only pressure.
 *
 * @param mayBeAir  gas stands shut where a technician said that it stands: what comes on slowly from there may be more air
 */
export function pressureLikelihood(step: PressureStep, threshold: number, mayBeAir = false): GasDensities {
  const { value, before, sinceS, noise } = step;
  const change = value - before;
  const rests = atRest(change, step);
  const still = Math.SQRT2 * noise;
  const soft = Math.max(0.008, 1.5 * noise);
  // A fan that runs up moves the pressure as slowly as a hand does: what moves must not speak for either.
  const [slowly, fast] = turningPerS;
  const goingOn = (step.goesOnPerS ?? 0) * sinceS;
  const standing =
    (goingOn === 0 ? 0.7 * rests : 0.4 * rests + 0.3 * normal(change - goingOn, still + 0.35 * Math.abs(goingOn))) +
    0.15 * laplace(change, Math.max(still, slowly * sinceS)) +
    0.15 * laplace(change, Math.max(still, fast * sinceS));

  // So far the noise reaches above a pressure that stands at the threshold.
  const edge = threshold + 3 * noise;
  const isBelow = share((edge - value) / soft);
  // Gas that is shut falls to where it was before; seldom somewhere else, when the fan's speed or the damper has changed.
  const anywhere = 1 / (Math.max(threshold, 0) + 0.1);
  const restsAt =
    step.shut === undefined ? anywhere : 0.1 * anywhere + 0.9 * normal(value - step.shut, 0.03 + 0.1 * step.shut);
  const arrivesBelow = before > threshold ? 0.5 * restsAt : 0;
  const byFan = fanPerS * sinceS + coarseDigit(step) + 3 * still;
  const asSlowAsFan = 1 - (1 - fasterThanFan) * share((change - byFan) / (0.5 * still));
  // More air than at light-off comes and goes slowly, and so it is told from gas where it passes from below to above and back.
  const comesBy = (step.lowest ?? Infinity) < fanAtRest ? fanPerS : damperPerS;
  const byDamper = comesBy * damperS + coarseDigit(step) + 3 * still;
  const tooFast = mayBeAir ? share(((step.roseBy ?? change) - byDamper) / (0.5 * still)) : 0;
  const asSlowAsDamper = exp(-fasterThanDamperPerS * sinceS * tooFast);
  const goesUp = mayBeAir && before <= edge && value > edge ? seldomSoSlow * asSlowAsDamper : 1;
  const mayFall = mayBeAir && -change <= byDamper;
  const goesBack = mayFall && before > edge && value <= edge ? surelyBack : 1;
  const shut = isBelow * ((before > threshold ? 0.5 : 1) * goesBack * standing * asSlowAsFan + arrivesBelow);

  // What is not above is below: a pressure that is neither would count against both for as long as it stands.
  const isAbove = 1 - isBelow;
  const arrivesAbove = before <= threshold ? (0.5 * exp(-Math.max(0, value - threshold) / 6)) / 6 : 0;
  const flowing = isAbove * (standing + arrivesAbove);
  const feeds = share((value - edge - leastForFlame) / soft);
  const unseen = exp(-unseenPerS * sinceS) * standing;

  const rise = Math.max(0.2, Math.min(4, 8 * sinceS));
  const rising = change > 0 ? (0.7 * exp(-change / rise)) / rise : 0;
  const opening = rising + 0.3 * rests;

  const ends = step.shut === undefined ? restsBelow(threshold) : [Math.min(step.shut, restsBelow(threshold)[0])];
  // A valve takes its time to close, above; at rest below it has closed.
  let closing = 0.3 * (1 - isBelow) * rests;
  const lefts = leftAfter(sinceS);
  for (const end of ends)
    for (let k = 0; k < closingTimes.length; k += 1) {
      const { probability } = closingTimes[k]!;
      const fall = (before - end) * (1 - lefts[k]!);
      // A fall that is lost in the noise is none.
      if (fall > 0)
        closing +=
          ((0.9 * probability) / ends.length) *
          (fall / (fall + 2 * still)) *
          normal(change + fall, still + 0.35 * fall);
    }
  const seldom =
    step.shut === undefined || !step.isAfterFlame ? 1 : exp(-higherPerS * sinceS * higherThan(value, step.shut));
  // Several times as fast as Float64Array.of.
  const densities = new Float64Array(9);
  densities[0] = shut * seldom + floor;
  densities[1] = opening + floor;
  densities[2] = flowing + floor;
  densities[3] = (mayFall ? slowlyShut * closing : closing) + floor;
  densities[lostGas] = flowing + (1 - isAbove) * unseen + floor;
  densities[litGas] = feeds * (standing + arrivesAbove) + (1 - feeds) * unseen + floor;
  densities[risingGas] = rising + floor;
  // The pressure moves up to where it stands and back: taken step by step, the steps' shares come to that of where it stands.
  // Close to the edge it may be either, and what stands there for long must not count against both.
  const isAir = mayBeAir ? share((value - edge) / soft + edgeWidths) * share((mostAir(threshold) - value) / soft) : 0;
  densities[moreAir] =
    isAir * goesUp * asSlowAsDamper * standing * exp(Math.min(1, (before - value) / moreAirBy)) + floor;
  const isHigher = step.shut === undefined ? 0 : higherThan(value, step.shut);
  densities[shutUnderSignal] = densities[0] * (1 - (1 - seldomHigher) * isHigher);
  return densities;
}
