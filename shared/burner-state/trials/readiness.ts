import { type FlameState, type GasState, isGasOn, isSignalWithoutGas } from '../../model/burner-words.ts';
import { meterFault } from '../meters/meter-fault.ts';
import type { MeterTrouble } from '../meters/meter-trouble.ts';
import { isPurgeSeen, type PurgeClock } from '../purge-clock.ts';

/** What a window knows of the burner and the meters before a trial. */
export interface BeforeTrial {
  /** What the host says of the burner; undefined while it says nothing. */
  burner:
    | {
        gas: GasState;
        flame: FlameState;
        alarm?: { message: string } | undefined;
        pressureTrouble?: { kind: MeterTrouble } | undefined;
        signalTrouble?: { kind: MeterTrouble } | undefined;
        moreAir?: true | undefined;
      }
    | undefined;
  /** A flame signal meter is connected; without one the verdict is the technician's. */
  hasSignalMeter: boolean;
}

/**
 * Why a window must not offer a trial now, as a sentence; undefined where it may, as far as alarm and meters go. The purge is asked for
 * apart, and the host decides by `trialRefusal`.
 */
export function trialProblem({ burner, hasSignalMeter }: BeforeTrial): string | undefined {
  if (!burner) return 'The state of the burner is unknown here. Wait, and look at the burner.';
  if (burner.alarm) return burner.alarm.message;
  if (burner.pressureTrouble) return meterFault('manometer', burner.pressureTrouble).message;
  if (burner.signalTrouble && hasSignalMeter) return meterFault('flame signal meter', burner.signalTrouble).message;
  return undefined;
}

/** What keeps the next trial waiting: the purge that is left, or, while gas is on, what starts it. Nothing counts down then. */
export const purgeWords = (gas: GasState | undefined, leftS: number, wantedS: number): string =>
  isGasOn(gas) ? `Purge ${Math.ceil(wantedS)} s after gas is shut` : `Purge: ${Math.ceil(leftS)} s left`;

/**
 * What the seconds since gas was shut are worth while air is not known to move. `shown`: what a wired fan pressure says; undefined without one;
 * `gone`: a fan that was confirmed does not show at the gauge anymore.
 */
export function waitWords(
  waitedS: number,
  { shown, gone }: { shown?: boolean | undefined; gone?: true | undefined },
): string {
  const why =
    shown === false
      ? 'the fan pressure shows no moving air'
      : gone
        ? 'the fan-only pressure has gone, look at the fan'
        : 'the fan is not confirmed';
  return `Waited ${Math.floor(waitedS)} s; not a purge: ${why}.`;
}

/**
 * Whether no gas was on since the recording began, so that the next trial is its first. The control may have purged before that: the host
 * insists on no purge then, but one that nobody saw is asked for.
 */
export const isBeforeFirstTrial = (
  { gas, purge }: { gas: GasState; purge: Pick<PurgeClock, 'needed'> },
  trials: readonly unknown[],
): boolean => gas === 'shut' && !purge.needed && trials.length === 0;

/** Whether the next trial is the first and nobody saw a full purge before it: one is asked for, though the host insists on none. */
export const isUnpurged = (
  { gas, purge }: { gas: GasState; purge: Pick<PurgeClock, 'needed' | 'purgedS'> & { wantedS: number } },
  trials: readonly unknown[],
): boolean => isBeforeFirstTrial({ gas, purge }, trials) && !isPurgeSeen(purge, purge.wantedS);

/** What is against lighting the pilot although gas is shut and purged. */
export const moreAirWords = 'More air than at light-off, or a leak: look at the damper';
export const withoutGasWords = 'Signal without gas: it must be dark first';
export const notLitWords = 'The last trial did not light: find out why first';

/** What is asked of a trial that only the technician can judge. */
export const enterResultWords = 'Enter how the last trial ended';

/** Whether a delayed spark is advised that nobody has announced, and that no meter shows: what is done now counts as a spark at once. */
export const isUnannounced = (
  advisedDelayS: number | undefined,
  { announcedSparkS, units }: { announcedSparkS?: number | undefined; units: { ignition?: unknown } },
): boolean => (advisedDelayS ?? 0) > 0 && announcedSparkS === undefined && units.ignition === undefined;

/** Whether what the signal meter shows over shut gas would pass for the flame of the next trial. */
export const seesWithoutGas = ({ burner, hasSignalMeter }: BeforeTrial): boolean =>
  hasSignalMeter && burner !== undefined && isSignalWithoutGas(burner);

/** What a window says of the next trial once it has to wait for no purge. */
export function readyWords(known: {
  isReady: boolean;
  /** The air of a purge, or gas that creeps in: nobody lights a pilot then. */
  isMoreAir: boolean;
  /** What is seen without gas proves no flame once gas is on. */
  isSignalWithoutGas: boolean;
  /** It is the first, and nobody saw a purge. */
  isUnpurged: boolean;
  /** Nobody has entered yet how an earlier trial ended. */
  isUnjudged: boolean;
  /** Which trial is advised is still being calculated. */
  isPending: boolean;
  /** The last trial did not light, and no advice says what that means. */
  hasFailed: boolean;
  /** The flame was lost in a sweep that is not over: it goes on, or is ended, once the pilot burns again. */
  isSweeping: boolean;
  /** The pressure as left passes: what was to be proved is. */
  isPassed: boolean;
  /** The advice is to make no further trial, and whether the plan asks for more all the same. */
  isDone: boolean;
  stopsShort: boolean;
  /** A delayed spark is advised, and not announced yet. */
  isUnannounced: boolean;
}): string {
  if (known.isMoreAir) return `${moreAirWords}.`;
  if (known.isSignalWithoutGas) return `${withoutGasWords}.`;
  if (!known.isReady) return 'Gas is not shut.';
  if (known.isUnpurged) return 'Purge first: none is on record.';
  if (known.isSweeping) return known.hasFailed ? `${notLitWords}.` : 'Relight the pilot, or end the sweep.';
  if (known.isUnjudged) return `${enterResultWords}.`;
  if (known.isPassed) return 'As-left passes: no further trial is needed.';
  if (known.isPending) return 'Working out the next trial…';
  if (known.hasFailed) return `${notLitWords}.`;
  if (known.isUnannounced) return 'Announce the delayed spark first.';
  if (known.stopsShort) return 'Not proved, but no trial is advised:';
  return known.isDone ? 'No further trial is advised.' : 'Ready for the next trial';
}

/** Whether "Ready" may be said: nothing is against a trial, and gas is known to be shut, the air as at light-off. */
export const isReady = (before: BeforeTrial): boolean =>
  trialProblem(before) === undefined &&
  before.burner?.gas === 'shut' &&
  !before.burner.moreAir &&
  !seesWithoutGas(before);
