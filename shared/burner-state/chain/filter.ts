import type { Transitions } from '../../numerics/hidden-markov.ts';
import { createJoint } from './joint.ts';
import type { JointNow } from './joint-part.ts';
import {
  followPressure,
  followPressures,
  followSignal,
  followStanding,
  type Levels,
  pressureUncertainty,
} from './levels.ts';
import { damperS, fanStartsS, type GasDensities, leastForAir, pressureLikelihood } from './pressure-likelihood.ts';
import { createSignalDensities, signalLikelihood } from './signal-likelihood.ts';
import { createRecentReadings } from './recent-readings.ts';
import type { SignalStep } from './signal-step.ts';
import { createEnteredFan } from './entered-fan.ts';
import { createRiseWatch } from './rise-lag.ts';
import { createStraySignal, withoutGas as withoutGasStates } from './stray-signal.ts';
import { burnerTransitions, hiddenStates, isMoreAir, pulseRate, stateNumber, stepS, sumOf } from './states.ts';
import type { Thresholds } from './thresholds.ts';

/** What both meters showed in one step of `stepS` seconds: the mean of its readings; undefined without one. inH2O, signal's unit. */
export interface Bin {
  pressure?: number;
  signal?: number;
}

/** A bin whose manometer says nothing of gas. */
export const withoutPressure = ({ signal }: Bin): Bin => (signal === undefined ? {} : { signal });

/** The forward filter: it goes on step after step and learns the levels of both meters meanwhile. */
export interface Filter {
  readonly levels: Levels;
  /** The transitions of the last step: how often pulses come is learned, and whether the regulator is turned is seen. */
  transitions(): Transitions;
  /** Goes on by one step. */
  step(bin: Bin): void;
  /** Probability of each hidden state now, given everything so far. */
  probabilities(into?: Float64Array): Float64Array;
  /** Joint probabilities of hidden state and lag, of the first threshold. */
  joint(): JointNow;
  /** Nobody has seen where gas stands shut: a flame burned, and gas was neither shut for some seconds before nor seen to come on since. */
  isShutUnseen(): boolean;
  /** Probability of each threshold now. */
  thresholdWeights(): Float64Array;
}

const size = hiddenStates.length;
const darkStates = hiddenStates.flatMap(({ pattern, flame }, i) =>
  pattern === 'fallen' && flame !== 'burning' ? [i] : [],
);
const litStates = hiddenStates.flatMap(({ flame }, i) => (flame === 'burning' || flame === 'unsteady' ? [i] : []));
/** Gas is shut, and the gauge shows what it shows at light-off, not in a purge. */
const standingStates = hiddenStates.flatMap((state, i) => (state.gas === 'shut' && !isMoreAir(state) ? [i] : []));
const shutStates = hiddenStates.flatMap(({ gas }, i) => (gas === 'shut' ? [i] : []));
const flowingStates = hiddenStates.flatMap(({ gas }, i) => (gas === 'flowing' ? [i] : []));
const steady = stateNumber.get('burning')!;
const following = stateNumber.get('following')!;
const faint = stateNumber.get('faint')!;
const flickering = stateNumber.get('unsteady')!;
const pulseOver = stateNumber.get('pulse-over')!;
/** A flame signal is settled when it has not moved much for so long, seconds. */
const settledS = 2;
/** Gas that was shut for so long before it came on stood where shut gas stands, seconds. */
const shutForS = 3;
/** After so long the pressure may rise again as a damper opens for a purge, seconds: a control goes on to it at once. */
const airComesAfterS = 0.3;
/** A valve that opens raises the pressure by more than this in so short a time, and no hand does. inH2O, seconds. */
const leastLeap = 0.5;
const leapS = 0.5;
/** Where gas has stood shut for so long at more than this the fan runs already, and shut gas hardly stands much higher later. Seconds, inH2O. */
const standsForS = 10;
const fanRunsAbove = 0.05;
/** So long after a flame a pressure above that of shut gas is doubted to be one, while gas is not known to be shut: the fan may run faster since. Seconds. */
const fallsForS = 60;
/** A manometer that has given no reading for longer, or none to believe, shows no gas that is shut, seconds. */
const longestUnreadS = 3;
/** Burning is looked at anew for the rate of pulses after so many steps. */
const stepsBetween = 50;

/** Makes the filter. It changes `levels` as it learns them. */
export function createFilter(levels: Levels, thresholds: Thresholds): Filter {
  const joint = createJoint(thresholds, levels.lagShares);
  const now = new Float64Array(size);
  const ofSignal = createSignalDensities();
  const recent = createRecentReadings();
  const rise = createRiseWatch();
  const stray = createStraySignal();
  const enteredFan = createEnteredFan(thresholds.entered);
  const learned = () => {
    const pulsesPerS = pulseRate(levels.pulses, levels.burningS);
    return {
      atRest: burnerTransitions(pulsesPerS, false, false),
      turning: burnerTransitions(pulsesPerS, true, false),
      whileShut: burnerTransitions(pulsesPerS, false, true),
    };
  };
  let rates = learned();
  let transitions = rates.atRest;
  let goesOnPerS = 0;
  let burningSteps = 0;
  let inPulse = false;
  let hasSignal = false;
  let darkForS = 0;
  let wasSettled = false;
  let shutForSoFarS = 0;
  let sinceFlameS = Infinity;
  let sinceLeapS = Infinity;
  let hasBurned = false;
  let isShutSeen = false;
  /** Pressure from which gas was last seen to come on, inH2O. */
  let cameOnFrom: number | undefined;
  /** Shut gas has stood above what a gauge shows without a fan. */
  let hasShownFan = false;
  /** Since the manometer gave its last reading, seconds. */
  let unreadS = 0;
  let isStandingTaken = false;
  /** Pressure at which gas last stood shut, whatever air moves, inH2O. */
  let stoodAt: number | undefined;

  /**
   * Gas stands shut where a technician has entered that it stands: what comes on slowly from there may be air. Where nobody has, the
   * thresholds stand for that, since the fan's own start would be taken for it.
   */
  const mayBeAir = () => thresholds.believedFrom !== undefined && shutForSoFarS >= airComesAfterS;
  /** Whether a threshold is the one that was entered, and the fan shows there. */
  const isBelieved = (threshold: number): boolean => threshold > leastForAir && threshold === thresholds.believedFrom;

  /**
   * A manometer is at the burner that has shown how gas came on, or shows the fan: about as it was entered, where it was. One that showed
   * the fan and shows nothing may have lost its hose; before any gas and any flame one that shows nothing has the benefit of the doubt.
   */
  const isAtBurner = () => {
    if (stoodAt === undefined || unreadS > longestUnreadS) return false;
    const fan = cameOnFrom ?? (thresholds.believedFrom ?? 0) / 2;
    const showsFan = stoodAt > Math.max(fanRunsAbove, fan / 2);
    return showsFan || (fan <= fanRunsAbove && (cameOnFrom !== undefined || !(hasBurned || hasShownFan)));
  };

  const ofGas = (value: number): (GasDensities | undefined)[] => {
    const step = {
      ...recent.pressureStep(value),
      noise: levels.pressureNoise,
      digit: levels.pressureDigit,
      goesOnPerS,
      shut: levels.shutPressure,
      isAfterFlame: sinceFlameS < fallsForS,
      lowest: recent.lowestPressure(fanStartsS),
      roseBy: value - (recent.lowestPressure(damperS) ?? recent.pressureStep(value).before),
    };
    const isAir = mayBeAir();
    return thresholds.values.map((threshold, h) =>
      joint.weights[h] === 0 ? undefined : pressureLikelihood(step, threshold, isAir && isBelieved(threshold)),
    );
  };

  const signalStep = (value: number): SignalStep => ({
    ...recent.signalStep(value, pressureUncertainty(levels)),
    isLingering: stray.isLingering(),
    isShutSurely:
      enteredFan.isShutSurely() || stray.isStray() || (stray.wasDark() && shutForSoFarS >= shutForS && isAtBurner()),
  });

  /** A flame burns and its shutter is open. */
  const burns = () => now[steady]! + now[following]! + now[faint]! + now[flickering]!;

  const learnPulses = () => {
    if (!inPulse && now[pulseOver]! > 0.5) {
      inPulse = true;
      levels.pulses += 1;
    } else if (inPulse && burns() > 0.8) inPulse = false;
    if (burns() <= 0.9) return;
    levels.burningS += stepS;
    burningSteps += 1;
    if (burningSteps % stepsBetween === 0) rates = learned();
  };

  /** Takes into account where gas stands shut, once until it comes on. */
  const takeStanding = (shutPressure: number) => {
    if (!isStandingTaken) joint.updateThresholds((threshold) => thresholds.standing(threshold, shutPressure));
    isStandingTaken = true;
  };

  /** Before any flame a fan that runs up leaves some doubt for as long as it runs: it may be gas that nobody lights. */
  const isTakenForShut = () => sumOf(now, shutStates) > (hasBurned ? 0.95 : 0.8);

  const stands = () => sumOf(now, standingStates) > 0.5;

  /** Gas that comes on shows where it stood while it was shut: close below the threshold. */
  const takeComingOn = (shutPressure: number) => {
    joint.updateThresholds((threshold) => thresholds.comingOn(threshold, shutPressure));
  };

  /** Gas that leaked away until a moment ago may not have been known to be shut; but no hand lets the pressure leap as a valve does. */
  const takeLeap = (value: number, sinceS: number) => {
    sinceLeapS += sinceS;
    const before = recent.lowestPressure(leapS);
    if (before === undefined || value - before < leastLeap || darkForS < shutForS) return;
    if (sinceLeapS > shutForS && shutForSoFarS < shutForS) takeComingOn(before);
    sinceLeapS = 0;
  };

  /** Follows for how long gas is known to be shut, and since when a flame is missed that nobody is known to have shut off. */
  const followGas = () => {
    const { shutPressure } = levels;
    const isShut = isTakenForShut();
    hasBurned ||= burns() > 0.9;
    isShutSeen ||= !hasBurned && shutForSoFarS >= shutForS;
    if (burns() > 0.9) sinceFlameS = 0;
    else sinceFlameS = isShut ? Infinity : sinceFlameS + stepS;
    if (isShut) {
      shutForSoFarS += stepS;
      if (!hasBurned && shutForSoFarS >= standsForS && shutPressure !== undefined && shutPressure > fanRunsAbove)
        takeStanding(shutPressure);
    } else if (sumOf(now, flowingStates) > 0.95) {
      if (shutForSoFarS >= shutForS && stoodAt !== undefined) {
        isShutSeen = true;
        cameOnFrom = stoodAt;
        // Where gas comes on from, there it stood shut, and not by more air.
        levels.shutPressure = stoodAt;
        takeStanding(stoodAt);
        takeComingOn(stoodAt);
      }
      isStandingTaken = false;
      shutForSoFarS = 0;
    }
  };

  const learnPressure = (value: number) => {
    const secondDifference = recent.pressureSecondDifference(value);
    if (secondDifference !== undefined) followPressure(levels, secondDifference);
    const { sinceS } = recent.pressureStep(value);
    const isShut = isTakenForShut();
    if (isShut) stoodAt = followStanding(stoodAt, value, sinceS);
    hasShownFan ||= isShut && stoodAt! > fanRunsAbove;
    followPressures(levels, { value, sinceS }, { shut: isShut && stands(), burning: burns() > 0.95 });
    takeLeap(value, sinceS);
    recent.addPressure(value);
  };

  const learnSignal = ({ value, before, sinceS }: SignalStep) => {
    const dark = sumOf(now, darkStates);
    wasSettled ||= darkForS > settledS;
    if (hasSignal)
      followSignal(levels, {
        value,
        before,
        sinceS,
        secondDifference: recent.signalSecondDifference(value),
        dark: darkForS > settledS || !levels.darkKnown ? dark : 0,
        wasSettled,
        steady: burns(),
        lit: sumOf(now, litStates),
      });
    hasSignal = true;
    const byLag = rise.reading(value - levels.dark, sinceS, dark, burns(), levels.noise);
    if (byLag) joint.updateLags(byLag);
    joint.lags(levels.lagShares);
    recent.addSignal(value);
  };

  return {
    levels,
    step(bin) {
      recent.age();
      const turn = recent.turn(pressureUncertainty(levels));
      goesOnPerS = turn.goesOnPerS;
      transitions = mayBeAir() ? rates.whileShut : turn.perS === 0 ? rates.atRest : rates.turning;
      joint.predict(transitions);
      enteredFan.step(bin.pressure, sumOf(now, withoutGasStates) > 0.5);
      const step = bin.signal === undefined ? undefined : signalStep(bin.signal);
      joint.update(
        bin.pressure === undefined ? undefined : ofGas(bin.pressure),
        step && signalLikelihood(step, levels, ofSignal),
        step?.sinceS ?? stepS,
      );
      joint.states(now);
      unreadS = bin.pressure === undefined ? unreadS + stepS : 0;
      darkForS = sumOf(now, darkStates) > 0.9 ? darkForS + stepS : 0;
      followGas();
      stray.step(now, darkForS);
      if (bin.pressure !== undefined) learnPressure(bin.pressure);
      if (step) learnSignal(step);
      learnPulses();
    },
    transitions: () => transitions,
    probabilities: (into = new Float64Array(size)) => joint.states(into),
    joint: () => joint.first(),
    isShutUnseen: () => hasBurned && !isShutSeen,
    thresholdWeights: () => joint.weights.slice(),
  };
}
