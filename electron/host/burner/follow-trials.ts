import { enteredFanOnly } from '../../../shared/burner-state/chain/bins.ts';
import type { PurgeClock } from '../../../shared/burner-state/purge-clock.ts';
import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';
import type { Undecided } from '../../../shared/contract/api.ts';
import { purgeShortfall, trialEntry } from '../../../shared/burner-state/trials/trial-entry.ts';
import { settleS, settleTrial } from '../../../shared/burner-state/trials/settle-trial.ts';
import { createTrialFollower } from '../../../shared/burner-state/trials/trial-follower.ts';
import { formatPressure } from '../../../shared/model/format.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';
import type { Target } from '../acquire/record/store-writer.ts';
import type { HostContext } from '../host-context.ts';
import { ignoringStoreFaults } from '../store/store-fault.ts';
import { addOwnTrial } from '../store/trials.ts';
import { measureRecorded } from './measure-recorded.ts';
import { createLostAfterProof } from './lost-after-proof.ts';
import { createPressureAfter } from './pressure-after.ts';
import { createWeakSignal } from './weak-signal.ts';
import { type FlameDoubt, isAboutSignal, type RunningTrial } from './running-trial.ts';
import { openEnds } from '../../../shared/model/trials/unjudged-trials.ts';
import { trialSecondsOf, purgeSecondsOf } from '../../../shared/model/trials/valid-trials.ts';

/** Records light-off trials without a hand: gas that comes on begins one, what the meters show then ends and measures it. */
export interface TrialRecording {
  /**
   * One more statement about the burner. `purge`: the clock as it stood before it, as gas sets it back. Says whether gas that is on is that
   * of a trial whose time is not over, be it that it is only about to be recognized. Gas that came on too early is not.
   */
  step(now: BurnerNow, purge: PurgeClock): boolean;
  /** Stores a trial that is over at once, with the readings there are: the recording ends. One that can still be proved goes on. */
  settle(): void;
  /** Why what burns, by the signal, may be the spark; undefined where nothing speaks for that. */
  doubtsFlame(): FlameDoubt | undefined;
  /** Another tracker, which knows what was recorded before, speaks from now on. */
  anotherTracker(): void;
}

/** The pressure of a trial when it begins is the mean over the last second. */
const meanOverMs = 1000;

/** @param setup  that of the capture being recorded */
export function recordTrials(context: () => HostContext, setup: () => Setup): TrialRecording {
  const follower = createTrialFollower();
  const after = createPressureAfter(context);
  const lostAgain = createLostAfterProof(context);
  const weak = createWeakSignal(context);
  let levels: BurnerNow['levels'] | undefined;
  let takenBack: { key: number; atS: number; purge: PurgeClock } | undefined;
  const trialSeconds = () => trialSecondsOf(setup());
  const shortfall = (purge: PurgeClock) => purgeShortfall(purge, purgeSecondsOf(setup()));

  const mark = (kind: 'trial-start' | 'trial-end' | 'note', elapsedS: number, text: string) => {
    context().recorder.mark({ elapsedS, kind, text });
    context().topics.captures.notify();
  };

  /** Nobody has said how a trial ended: the record asks for it, and its entry is to have the purge that was seen. */
  const endWithoutResult = ({ key, startedS, gas }: RunningTrial, atS: number) => {
    if (gas) context().running.unjudged.push({ key, startedS, purge: gas.purge });
    mark('trial-end', atS, openEnds.noResult);
  };

  const gasOn = (target: Target, atS: number, counted: PurgeClock) => {
    const { running, live, clock } = context();
    if (running.trial?.over) settleNow('shut', atS);
    after.forget();
    lostAgain.begin();
    const began = running.trial;
    const purge = takenBack?.key === target.key && atS - takenBack.atS <= settleS ? takenBack.purge : counted;
    takenBack = undefined;
    const announced = running.announced?.key === target.key ? running.announced.sparkDelayS : undefined;
    running.announced = undefined;
    const short = shortfall(purge);
    if (short) mark('note', atS, short);
    if (began && !began.gas && Math.abs(atS - began.startedS) <= trialSeconds()) {
      began.gas = { atS, purge }; // the button had begun this one
      return;
    }
    if (began) endWithoutResult(began, atS);
    const pressure = live.mean('pilot_pressure', meanOverMs, clock.monotonicMs());
    running.trial = {
      ...(pressure && { pressure: { value: pressure.value, unit: pressure.unit as PressureUnit } }),
      key: target.key,
      startedS: atS,
      announcedDelayS: announced,
      knownBy: 'meters',
      gas: { atS, purge },
      sawFlame: false,
    };
    mark('trial-start', atS, `gas on${announced === undefined ? '' : `, delayed spark, ${announced} s`}`);
  };

  /** The gas that was said to be on was not: the trial has not begun, and what it began with is kept for the one that does. */
  const takeBack = (atS: number) => {
    const { running } = context();
    const { trial } = running;
    if (!trial?.gas || trial.over) return;
    const { key, gas, announcedDelayS, knownBy } = trial;
    takenBack = { key, atS, purge: gas.purge };
    if (knownBy === 'hand') {
      delete trial.gas;
      return;
    }
    running.trial = undefined;
    if (announcedDelayS !== undefined) running.announced = { key, sparkDelayS: announcedDelayS };
    mark('trial-end', atS, 'no trial: gas was not on');
  };

  /** The technician is to enter the result. */
  const askFor = (trial: RunningTrial, why: Undecided) => {
    trial.undecided = why;
    context().topics.captures.notify();
  };

  /** Takes note of what this statement says of the trial that runs. */
  const watch = (trial: RunningTrial, now: BurnerNow, zeroS: number) => {
    const { flame } = now.moment;
    const atS = now.atS - zeroS;
    const beganS = trial.gas?.atS ?? trial.startedS;
    if ((flame === 'burning' || flame === 'unsteady') && atS >= beganS && atS <= beganS + trialSeconds())
      trial.sawFlame = true;
    trial.isDark = flame === 'lost' || flame === 'dark';
    if (!trial.gas) return;
    const failed = now.pressureTrouble ?? now.signalTrouble;
    if (failed && failed.sinceS - zeroS < (trial.over?.atS ?? Infinity) && !trial.undecided)
      askFor(trial, now.pressureTrouble ? 'manometer-failed' : 'signal-meter-failed');
  };

  /**
   * Stores the trial that is over, unless only the technician can say how it ended. `later`: it may wait for the flame's signal; `now`: only
   * for one that is not proved yet; `shut`: its gas is shut, nothing can come anymore. `untilS`: when the next gas came on.
   */
  const settleNow = (when: 'later' | 'now' | 'shut', untilS?: number) => {
    const { running, store, owner, recorder } = context();
    const { trial } = running;
    if (!trial?.over || !trial.gas || trial.undecided) return;
    const { over, gas } = trial;
    ignoringStoreFaults(store.file, () => {
      const measured = measureRecorded(context(), trial, setup(), levels, untilS);
      if (!measured) {
        askFor(trial, 'manometer-failed');
        return;
      }
      const settled = settleTrial(measured, {
        why: over.why,
        gasS: gas.atS,
        nowS: recorder.elapsedS(),
        trialSeconds: trialSeconds(),
        when,
        hasMinimumSignal: setup().minimumSignal !== undefined,
        burning: levels?.burningPressure,
        fanOnly: enteredFanOnly(setup()),
      });
      if (settled === 'wait') return;
      if (settled === 'ask') {
        askFor(trial, 'signal-before-gas');
        return;
      }
      if (settled !== 'enter') {
        running.trial = undefined;
        mark('trial-end', over.atS, `no trial: ${settled.noTrial}`);
        return;
      }
      const entry = trialEntry(measured, {
        announcedDelayS: trial.announcedDelayS,
        sparksWithGas: setup().sparkWithGas !== undefined,
        purge: gas.purge,
        purgeSeconds: purgeSecondsOf(setup()),
      });
      const stored = addOwnTrial(store.db, trial.key, owner, entry);
      running.trial = undefined;
      // Another program has taken the capture over: nothing of ours goes into it.
      if (stored === undefined) return;
      if (entry.lit) lostAgain.stored({ key: trial.key, id: stored, untilS: gas.atS + trialSeconds() });
      if (entry.pressureAfter === undefined) after.awaitShut(trial.key, stored, entry.unit);
      const text = `${entry.lit ? 'lit' : 'not lit'}, ${formatPressure(entry.pressure, entry.unit)}`;
      mark('trial-end', over.atS, text);
    });
  };

  const followStep = (now: BurnerNow, purge: PurgeClock) => {
    const { recorder, running, topics } = context();
    levels = now.levels;
    const event = follower.step(now, trialSeconds());
    const target = recorder.target();
    if (now.moment.gas === 'shut' || running.enteredNotLit?.key !== target?.key) running.enteredNotLit = undefined;
    if (!target) return;
    const zeroS = target.zeroMs / 1000;
    if (running.trial && running.trial.key !== target.key) running.trial = undefined;
    after.step(now, target);
    lostAgain.step(now, target);
    const isBlind = now.pressureTrouble !== undefined || now.signalTrouble !== undefined;
    // Gas that was on when the recording began is no trial of it.
    if (event?.kind === 'gas-on' && event.atS >= zeroS) {
      if (isBlind) running.announced = undefined;
      else {
        gasOn(target, event.atS - zeroS, purge);
        // Whatever comes up with the gas, only the technician sees whether it is the pilot.
        if (now.sparkProves && running.trial) askFor(running.trial, 'spark-like-flame');
      }
    }
    if (event?.kind === 'taken-back') takeBack(event.atS - zeroS);
    const { trial } = running;
    weak.step(now, trial?.gas !== undefined && now.atS - zeroS <= trial.gas.atS + trialSeconds() + settleS);
    if (!trial) return;
    watch(trial, now, zeroS);
    // What a known spark gives is told from a flame by itself.
    const mayBeSpark = weak.isWeak() && now.levels.spark === undefined;
    if (mayBeSpark && trial.gas && !trial.undecided) askFor(trial, 'weaker-than-before');
    if (event?.kind === 'over' && trial.gas && !trial.over) {
      trial.over = { atS: event.untilS - zeroS, why: event.why };
      topics.captures.notify();
    }
    // A flame that was seen waits for its signal only while gas flows.
    const isShut = now.moment.gas === 'shut';
    if (trial.over && now.atS - zeroS >= trial.over.atS + settleS) settleNow(isShut ? 'shut' : 'later');
    // The purge is what counts now: the record asks for the result from here on.
    if (isShut && running.trial && isAboutSignal(running.trial.undecided)) {
      const ended = running.trial;
      running.trial = undefined;
      endWithoutResult(ended, now.atS - zeroS);
    }
  };

  return {
    step(now, purge) {
      followStep(now, purge);
      const { running, recorder } = context();
      const { trial } = running;
      if (trial?.gas) return !trial.over && !trial.undecided && !shortfall(trial.gas.purge);
      return recorder.target() !== undefined && follower.isBeginning(now, trialSeconds()) && !shortfall(purge);
    },
    settle() {
      settleNow('now');
      lostAgain.settle();
    },
    doubtsFlame() {
      const { running, recorder } = context();
      const { gas, undecided, isDark = false } = running.trial ?? {};
      if (running.enteredNotLit) return 'entered-not-lit';
      if (!gas || (undecided !== 'spark-like-flame' && undecided !== 'weaker-than-before')) return undefined;
      if (undecided === 'weaker-than-before' && !isDark && !weak.isWeak()) return undefined;
      // The control sparks no longer than the trial, and a detector has seen the end of that soon after. What ended was no flame either.
      return isDark || recorder.elapsedS() < gas.atS + trialSeconds() + settleS ? 'trial-runs' : undefined;
    },
    anotherTracker: () => follower.anotherTracker(),
  };
}
