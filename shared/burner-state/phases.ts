import { isGasOn, type Phase } from '../model/burner-words.ts';
import type { Capture } from '../model/capture.ts';
import { convertPressure, type PressureUnit } from '../model/units.ts';
import { airMoves, confirmedAir, leastFanPressure } from './air.ts';
import type { Known } from './chain/bins.ts';
import { binOf } from './chain/bins.ts';
import type { Moment } from './chain/label.ts';
import { stepS } from './chain/states.ts';

export { type Phase, phaseNames } from '../model/burner-words.ts';

/** Whether gas is on in the sense of the phases: on its way in, flowing, or on its way out. */
const hasGas = ({ gas }: Moment): boolean => isGasOn(gas);
const burns = (moment: Moment): boolean => moment.flame === 'burning' || moment.flame === 'unsteady';

/** Follows the phase of a visit, moment after moment. */
export interface PhaseFollower {
  /** The phase of the next moment. `air`: moving air is shown or confirmed; `seesFlame`: the signal meter is sound. */
  step(moment: Moment, atS: number, air: boolean, seesFlame: boolean): Phase;
}

/** Makes a follower. Live, what comes after the last gas is a wait: nobody knows yet that it was the last. */
export function createPhaseFollower({ trialSeconds }: Pick<Known, 'trialSeconds'>): PhaseFollower {
  let sawGas = false;
  let proved = false;
  let shutS = -Infinity;
  return {
    step(moment, atS, air, seesFlame) {
      if (moment.gas === 'unknown') return burns(moment) ? 'held' : 'unknown';
      if (!hasGas(moment)) {
        proved = false;
        shutS = atS;
        if (!sawGas) return 'before-gas';
        // A signal that nobody reads may be that of a flame.
        return air && moment.flame !== 'unknown' ? 'purge' : 'wait';
      }
      sawGas = true;
      if (burns(moment)) proved = true;
      if (proved) return 'held';
      // A flame may have been proved that nobody sees.
      if (!seesFlame) return 'unknown';
      // Gas that flows unlit for longer than a trial is no phase that a burner's control knows.
      return atS - shutS > trialSeconds && moment.gas !== 'closing' ? 'unknown' : 'trial';
    },
  };
}

/** The phase of each step of a whole capture; `seesFlame`: whether the signal meter is sound in a step. Air counts where a fan pressure shows it, else where the marks say that it was confirmed. */
export function phasesOf(
  moments: readonly Moment[],
  seesFlame: (t: number) => boolean,
  first: number,
  capture: Capture,
  known: Known,
): Phase[] {
  const shown = airShown(capture, first, moments.length);
  const confirmed = confirmedAir(capture.marks);
  const lastGas = moments.findLastIndex(hasGas);
  const follower = createPhaseFollower(known);
  return moments.map((moment, t) => {
    const atS = (first + t) * stepS;
    const air = airMoves({ shown: shown && shown[t] === 1, confirmed: confirmed(atS) });
    const phase = follower.step(moment, atS, air, seesFlame(t));
    return t > lastGas && (phase === 'wait' || phase === 'purge') ? 'after' : phase;
  });
}

/** Whether a fan-pressure channel shows moving air, step by step; undefined without one. */
function airShown(capture: Capture, first: number, count: number): Uint8Array | undefined {
  const shown = new Uint8Array(count);
  let last = { at: 0, air: 0 };
  const own = capture.readings.filter(({ role, value }) => role === 'fan_pressure' && Number.isFinite(value));
  if (own.length === 0) return undefined;
  for (const { elapsedS, value, unit } of own.sort((a, b) => a.elapsedS - b.elapsedS)) {
    const at = Math.min(count, Math.max(0, binOf(elapsedS) - first));
    shown.fill(last.air, last.at, at);
    last = { at, air: Number(convertPressure(value, unit as PressureUnit, 'inH2O') > leastFanPressure) };
  }
  // A reading stands for two seconds more, not for ever.
  shown.fill(last.air, last.at, Math.min(count, last.at + Math.round(2 / stepS)));
  return shown;
}
