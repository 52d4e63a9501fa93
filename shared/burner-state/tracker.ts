import { predictStates, smoothStep, type Transitions } from '../numerics/hidden-markov.ts';
import { addTo, binOf, type Known, type Mean } from './chain/bins.ts';
import { type Bin, createFilter, withoutPressure } from './chain/filter.ts';
import { type Moment, mostProbable, probabilityOf, shows } from './chain/label.ts';
import {
  followDigit,
  followFlame,
  halfPlateau,
  initialLevels,
  type Levels,
  pressureUncertainty,
  takeLiveZero,
} from './chain/levels.ts';

import { doubtsShut, withoutShut, withTroubles } from './doubts.ts';
import { createFlameMemory } from './flame-memory.ts';
import { createSparkSeen } from './spark-seen.ts';
import { createManometerOff, offStep } from './meters/manometer-off.ts';
import { createMeterWatch, type MeterTrouble } from './meters/meter-trouble.ts';
import { createPhaseFollower, type Phase } from './phases.ts';
import type { RegulatorState } from './regulator/regulator.ts';
import { createRegulatorFilter } from './regulator/regulator-live.ts';
import { hiddenStates, isMoreAir, stepS } from './chain/states.ts';
import { meanLag } from './chain/lags.ts';
import { createRunIn, isUnsteady, windowSteps } from './chain/steadiness.ts';
import { thresholdsFor } from './chain/thresholds.ts';
import { provingOverSpark } from './trials/proving-over-spark.ts';

/** What the burner does, as far as the readings up to now say. */
export interface BurnerNow {
  /** The moment of which `moment` speaks, seconds of the capture: at most a second ago, so that later readings have had their say. */
  atS: number;
  moment: Moment;
  phase: Phase;
  /** What the readings say of this very moment, before later ones: for alarms, which cannot wait. */
  latest: Moment;
  /** Probability now that gas flows and the flame that burned is gone, and that gas flows and nothing burns. */
  lost: number;
  unlit: number;
  /** Probability now that gas is shut, whether or not a flame was there before; 0 while the manometer is in trouble, and where it stands too high to be believed. */
  shut: number;
  /** Gas is told to be shut although the pressure has slowly risen above what was entered: more air than at light-off, or gas that creeps in. */
  moreAir?: true;
  /** A signal as high as a flame's stands over gas that the manometer shows shut, and it would show the same with its hose off. */
  mayBurnUnseen?: true;
  /** The spark alone gives the signal of a flame, as entered or as seen without gas: what comes with the gas proves none. */
  sparkProves?: true;
  /** Probability now that nothing burns, whatever gas does; 0 while the signal meter is in trouble. */
  dark: number;
  /** A flame was proved since gas was last shut: it burned, or its signal built up to the entered minimum, else to half the plateau. */
  burned: boolean;
  /** Trouble of a meter and since when, seconds of the capture; undefined when it is sound. */
  pressureTrouble: { kind: MeterTrouble; sinceS: number } | undefined;
  signalTrouble: { kind: MeterTrouble; sinceS: number } | undefined;
  levels: Levels;
}

/** Follows the burner live. */
export interface Tracker {
  /** A reading of either meter, pressure in inH2O, signal in its unit; NaN for one that is no number. */
  reading(role: 'pilot_pressure' | 'flame_signal', elapsedS: number, value: number): void;
  /**
   * Takes in everything up to `nowS` and says what the burner does. Times must not go back.
   *
   * @param air  whether moving air is shown or was confirmed
   */
  advance(nowS: number, air?: boolean): BurnerNow | undefined;
  /** The technician has looked: a manometer that was taken for off shows what there is. */
  believeManometer(): void;
}

const size = hiddenStates.length;
/** Steps that `moment` waits for: 0.8 s, so that with the step itself it is less than a second late. */
const lagSteps = 8;
/** A reading that came this much later than its time still counts; ports hand over what they have every tenth of a second. */
const graceS = 0.12;
/** Gas is shut for good at this probability: only then does an alarm go, and is what burned before over. */
export const shutFor = 0.9;
/** Steps in which the first readings cannot tell a flame and gas from noise: no level of either meter is known yet. */
const firstSteps = 10;
/** After so long a silence of the caller nothing is known of what went by, seconds; the chain would only forget step by step. */
const longestCatchUpS = 60;

/** Makes a live tracker. It learns the levels of both meters from what it sees. */
export function createTracker(known: Known): Tracker {
  const levels = initialLevels(known.signalUnit, known.minimumSignal, known.darkSignal);
  const filter = createFilter(levels, thresholdsFor(known));
  const regulator = createRegulatorFilter(lagSteps);
  const phases = createPhaseFollower(known);
  const watches = { pilot_pressure: createMeterWatch(), flame_signal: createMeterWatch() };
  let off = createManometerOff();
  const pending = new Map<number, { pressure?: Mean; signal?: Mean }>();
  const history: { bin: number; states: Float64Array; transitions: Transitions }[] = [];
  let next: number | undefined;
  let lastPressure: number | undefined;
  let lastSignal = -Infinity;
  let hasSignal = false;
  const proof = createFlameMemory();
  const spark = createSparkSeen();
  const provingSignal = () => known.minimumSignal ?? halfPlateau(levels);
  /** The step of the manometer's first reading: before it, shut gas is a mere assumption. */
  let firstSeen = Infinity;
  /** The step of the first reading of either meter. */
  let firstBin = Infinity;

  /** The state `lagSteps` ago, in the light of all steps since. */
  const lagged = (): { bin: number; states: Float64Array } | undefined => {
    const first = history[0];
    if (!first) return undefined;
    let after = history.at(-1)!.states;
    const predicted = new Float64Array(size);
    for (let k = history.length - 2; k >= 0; k -= 1) {
      const into = new Float64Array(size);
      const { transitions } = history[k + 1]!;
      predictStates(history[k]!.states, transitions, predicted);
      smoothStep(history[k]!.states, predicted, after, transitions, into);
      after = into;
    }
    return { bin: first.bin, states: after };
  };

  /** The moment that the last step allows to speak of, and whether the signal scatters then. */
  let then: { bin: number; states: Float64Array } | undefined;
  const hasRunIn = createRunIn();
  const seen: Bin[] = [];
  const shown = { signal: [] as number[], pressure: [] as number[] };
  const showThen = () => {
    then = lagged();
    if (!then) return;
    const lagS = meanLag(levels.lagShares);
    const answersTo = pressures.at(-seen.length - Math.round(lagS / stepS)) ?? pressures[0]!;
    const signal = hasRunIn(shows(then.states), lagS) ? seen[0]!.signal : undefined;
    shown.signal.push(signal ?? Number.NaN);
    shown.pressure.push(answersTo);
    if (shown.signal.length > windowSteps) for (const each of [shown.signal, shown.pressure]) each.shift();
  };
  const pressures: number[] = [];
  /** Where gas stands shut: the lower of what was entered and what was seen, since either may be wrong. */
  const shutLevel = () =>
    filter.isShutUnseen() || levels.shutPressure === undefined
      ? known.fanOnly
      : Math.min(known.fanOnly ?? Infinity, levels.shutPressure);
  const isFrozen = (role: keyof typeof watches, atS: number) => watches[role].trouble(atS)?.kind === 'frozen';
  const dropPending = (role: keyof typeof watches) => {
    for (const means of pending.values()) delete means[role === 'pilot_pressure' ? 'pressure' : 'signal'];
  };
  const goOn = (bin: number) => {
    const means = pending.get(bin);
    pending.delete(bin);
    const endS = (bin + 1) * stepS;
    // What a frozen meter repeats says nothing of now.
    const observed: Bin = {
      ...(means?.pressure &&
        !isFrozen('pilot_pressure', endS) && { pressure: means.pressure.sum / means.pressure.count }),
      ...(means?.signal && !isFrozen('flame_signal', endS) && { signal: means.signal.sum / means.signal.count }),
    };
    filter.step(off.isDoubted() ? withoutPressure(observed) : observed);
    const states = filter.probabilities();
    const likeliest = mostProbable(states);
    lastSignal = observed.signal ?? lastSignal;
    const isShut = probabilityOf(states, ({ gas }) => gas === 'shut') > shutFor;
    proof.step({
      isShut,
      flame: bin - firstBin >= firstSteps ? likeliest.flame : 'unknown',
      signal: lastSignal,
      provingSignal: provingSignal(),
      noise: levels.noise,
    });
    spark.step(likeliest, lastSignal);
    const strongest = Math.max(spark.signal() ?? -Infinity, known.sparkSignal ?? -Infinity);
    if (strongest > -Infinity) levels.spark = strongest;
    history.push({ bin, states, transitions: filter.transitions() });
    if (history.length > lagSteps + 1) history.shift();
    seen.push(observed);
    if (seen.length > lagSteps + 1) seen.shift();
    pressures.push(observed.pressure ?? pressures.at(-1) ?? 0);
    if (pressures.length > 2 * windowSteps) pressures.shift();
    showThen();
    off.step(endS, offStep(observed, levels, shutLevel(), likeliest.flame));
    regulator.step(observed.pressure, likeliest.gas, pressureUncertainty(levels));
  };

  return {
    reading(role, elapsedS, value) {
      const wasFrozen = isFrozen(role, elapsedS);
      watches[role].reading(elapsedS, value);
      // What a meter repeated until now must not be averaged with what it reads again.
      if (wasFrozen && !isFrozen(role, elapsedS)) dropPending(role);
      if (!Number.isFinite(value) || !Number.isFinite(elapsedS)) return;
      if (role === 'pilot_pressure') {
        if (lastPressure !== undefined) followDigit(levels, lastPressure, value);
        lastPressure = value;
      } else if (!hasSignal) takeLiveZero(levels, known.signalUnit, value);
      hasSignal ||= role === 'flame_signal';
      const bin = binOf(elapsedS);
      next ??= bin;
      firstBin = Math.min(firstBin, bin);
      if (role === 'pilot_pressure') firstSeen = Math.min(firstSeen, bin);
      if (bin < next) return; // later than the grace: the step is done
      const means = pending.get(bin) ?? {};
      if (role === 'pilot_pressure') means.pressure = addTo(means.pressure, value);
      else means.signal = addTo(means.signal, value);
      pending.set(bin, means);
    },
    believeManometer() {
      off = createManometerOff();
    },
    advance(nowS, air = false) {
      if (next === undefined) return undefined;
      const end = binOf(nowS - graceS);
      if (end - next > longestCatchUpS / stepS) next = end - Math.round(longestCatchUpS / stepS);
      for (; next < end; next += 1) goOn(next);
      if (!then) return undefined;
      const { bin: newest, states: latest } = history.at(-1)!;
      const offSinceS = off.sinceS();
      const pressureTrouble =
        watches.pilot_pressure.trouble(nowS) ??
        (offSinceS === undefined ? undefined : { kind: 'off' as const, sinceS: offSinceS });
      const signalTrouble = watches.flame_signal.trouble(nowS);
      const isShutDoubted = doubtsShut(known, filter, pressures.at(-1) ?? 0);
      const scatters = isUnsteady(shown, 0, windowSteps, levels.height);
      const told = (bin: number, states: Float64Array, turning: RegulatorState): Moment => {
        const likeliest = mostProbable(states);
        const flame = likeliest.flame === 'burning' && scatters ? 'unsteady' : likeliest.flame;
        // A pressure that fell at once under a flame that goes on is that of shut gas under hot walls, or of a hose that came off.
        const isDoubted = off.isDoubted() || (off.hasFallen() && likeliest.gas === 'flowing');
        const isGasUnseen = pressureTrouble !== undefined || (isDoubted && !signalTrouble) || bin < firstSeen;
        const isEarly = bin - firstBin < firstSteps && likeliest.gas !== 'shut';
        const moment: Moment = {
          ...likeliest,
          flame,
          regulator: turning,
          ...(isEarly && { gas: 'unknown', flame: 'unknown' }),
        };
        return withTroubles(isShutDoubted ? withoutShut(moment) : moment, isGasUnseen, !!signalTrouble);
      };
      const blind = pressureTrouble !== undefined || signalTrouble !== undefined;
      const atS = (then.bin + 1) * stepS;
      const moment = told(then.bin, then.states, regulator.lagged());
      followFlame(levels, moment.flame);
      return {
        atS,
        moment,
        phase: phases.step(moment, atS, air, !signalTrouble),
        latest: told(newest, latest, regulator.state()),
        lost: blind ? 0 : probabilityOf(latest, ({ flame }) => flame === 'lost'),
        unlit: blind
          ? 0
          : probabilityOf(latest, ({ gas, flame }) => gas === 'flowing' && (flame === 'dark' || flame === 'lost')),
        ...(moment.gas === 'shut' && probabilityOf(then.states, isMoreAir) > 0.5 && { moreAir: true as const }),
        ...(provingOverSpark(provingSignal(), levels) === undefined && { sparkProves: true as const }),
        ...(off.mayBurnUnseen() && { mayBurnUnseen: true as const }),
        shut: pressureTrouble || isShutDoubted ? 0 : probabilityOf(latest, ({ gas }) => gas === 'shut'),
        dark: signalTrouble
          ? 0
          : probabilityOf(latest, ({ flame }) => flame === 'lost' || flame === 'out' || flame === 'dark'),
        burned: proof.burned(),
        pressureTrouble,
        signalTrouble,
        levels,
      };
    },
  };
}
