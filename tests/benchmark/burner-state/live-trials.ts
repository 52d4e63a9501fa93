import { halfPlateau } from '../../../shared/burner-state/chain/levels.ts';
import type { Known } from '../../../shared/burner-state/chain/bins.ts';
import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';
import { beforeS, measureTrial, type MeasuredTrial } from '../../../shared/burner-state/trials/measure-trial.ts';
import { settleS, settleTrial } from '../../../shared/burner-state/trials/settle-trial.ts';
import { createTrialFollower, type TrialEvent } from '../../../shared/burner-state/trials/trial-follower.ts';
import type { Reading } from '../../../shared/model/reading.ts';

/** Trials as they are entered while a visit is recorded, and those that the technician is asked about since a meter failed. */
export interface LiveTrials {
  step(now: BurnerNow, nowS: number): void;
  /** The recording stops: a trial that is over is entered as it is. */
  stop(now: BurnerNow, nowS: number): void;
  entered: MeasuredTrial[];
  byHandAt: number[];
}

interface Running {
  gasS: number;
  over?: { atS: number; why: Extract<TrialEvent, { kind: 'over' }>['why'] };
}

/** Makes one, as the host records them, over the `readings` of a whole visit in the order of their times. */
export function createLiveTrials(readings: readonly Reading[], known: Known): LiveTrials {
  const { trialSeconds, minimumSignal } = known;
  const follower = createTrialFollower();
  let running: Running | undefined;
  const told: LiveTrials = {
    entered: [],
    byHandAt: [],
    step(now, nowS) {
      const event = follower.step(now, trialSeconds);
      const trouble = now.pressureTrouble ?? now.signalTrouble;
      if (event?.kind === 'gas-on' && !trouble) {
        if (running?.over) settle(running, now, event.atS, 'shut');
        running = { gasS: event.atS };
      }
      if (event?.kind === 'taken-back' && !running?.over) running = undefined;
      if (running && trouble && trouble.sinceS < (running.over?.atS ?? Infinity)) {
        told.byHandAt.push(running.gasS);
        running = undefined;
      }
      if (!running) return;
      if (event?.kind === 'over') running.over ??= { atS: event.untilS, why: event.why };
      if (running.over && now.atS >= running.over.atS + settleS)
        settle(running, now, nowS, now.moment.gas === 'shut' ? 'shut' : 'later');
    },
    stop(now, nowS) {
      if (running?.over) settle(running, now, nowS, 'now');
    },
  };

  const settle = ({ gasS, over }: Running, { levels }: BurnerNow, nowS: number, when: 'later' | 'now' | 'shut') => {
    const shown = readings.filter(({ elapsedS }) => elapsedS >= gasS - beforeS && elapsedS <= nowS);
    const measured = measureTrial(shown, {
      fromS: gasS - beforeS,
      untilS: Infinity,
      provingSignal: minimumSignal ?? halfPlateau(levels),
      trialSeconds,
    });
    if (!measured) {
      told.byHandAt.push(gasS);
      running = undefined;
      return;
    }
    const settled = settleTrial(measured, {
      why: over!.why,
      gasS,
      nowS,
      trialSeconds,
      when,
      hasMinimumSignal: minimumSignal !== undefined,
      burning: levels.burningPressure,
      fanOnly: known.fanOnly,
    });
    if (settled === 'wait') return;
    if (settled === 'enter') told.entered.push(measured);
    if (settled === 'ask') told.byHandAt.push(gasS);
    running = undefined;
  };
  return told;
}
