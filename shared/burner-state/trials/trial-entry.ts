import type { Trial } from '../../model/capture.ts';
import { formatPurge, formatSeconds } from '../../model/format.ts';
import { isPurgeSeen, type PurgeClock } from '../purge-clock.ts';
import type { MeasuredTrial } from './measure-trial.ts';

/** What is known of a trial beside the readings. Times in seconds. */
export interface TrialCircumstances {
  /** Spark delay announced for this trial; undefined: none was. */
  announcedDelayS: number | undefined;
  /** The technician has stated for the visit that the control sparks with the gas. */
  sparksWithGas: boolean;
  /** The purge clock as it stood before the gas. */
  purge: PurgeClock;
  /** Seconds of purge that are wanted. */
  purgeSeconds: number;
}

/** Readings carry tenths of a millisecond. */
const round = (seconds: number): number => Math.round(seconds * 1e4) / 1e4;

/**
 * The entry of a trial that the meters showed.
 *
 * The moment of the spark is that of a wired `ignition` channel, else what was announced for this trial, else what was stated for the
 * visit, else unknown. A flame that was proved before the announced spark shows that it was not kept: then it is unknown as well.
 */
export function trialEntry(measured: MeasuredTrial, circumstances: TrialCircumstances): Trial {
  const { gasS, provedS, lit, unit, pressure, pressureBefore, pressureAfter } = measured;
  const { announcedDelayS, purge, purgeSeconds } = circumstances;
  const unseen = lit ? whyProofUnseen(measured) : undefined;
  const proveS = lit && unseen === undefined && provedS !== undefined ? provedS - gasS : undefined;
  const delayS = sparkDelay(measured, circumstances);
  const wasAnnounced = announcedDelayS !== undefined && !measured.isSparkWired;
  // Nobody saw whether the flame waited for a spark that was announced.
  const isUnseen = unseen !== undefined && wasAnnounced;
  const isKept = delayS === undefined || (!isUnseen && (proveS === undefined || proveS >= delayS));
  const notes = [
    purgeShortfall(purge, purgeSeconds),
    // The control may have purged before the recording began: no reason to shut the gas, but no purge either.
    !purge.needed && !isPurgeSeen(purge, purgeSeconds) && 'No purge before it is on record.',
    unseen && `${unseen}: the time to prove is not known.`,
    !isKept &&
      wasAnnounced &&
      !isUnseen &&
      `The flame was proved before the announced spark at ${formatSeconds(delayS)}.`,
  ].filter((note) => typeof note === 'string');
  return {
    pressure,
    unit,
    ...(delayS !== undefined && isKept && { sparkDelayS: round(delayS) }),
    lit,
    ...(proveS !== undefined && { timeToProveS: round(proveS) }),
    ...(proveS !== undefined && delayS !== undefined && isKept && { timeToProveFromSparkS: round(proveS - delayS) }),
    elapsedS: round(gasS),
    knownBy: 'meters',
    ...purgeFacts(purge, purgeSeconds),
    ...(pressureBefore !== undefined && { pressureBefore }),
    ...(pressureAfter !== undefined && { pressureAfter }),
    ...(notes.length > 0 && { note: notes.join(' ') }),
  };
}

/** Why nobody saw how long it took until the flame was proved, in words; undefined where that was seen. */
function whyProofUnseen({ isProofUnseen, isGasShownLate }: MeasuredTrial): string | undefined {
  if (isProofUnseen) return 'The signal meter was silent while the flame was proved';
  return isGasShownLate ? 'The manometer showed the gas only after the flame' : undefined;
}

/** Seconds from the gas to the spark, as far as anyone knows. */
function sparkDelay(
  { gasS, sparkS, isSparkWired }: MeasuredTrial,
  { announcedDelayS, sparksWithGas }: TrialCircumstances,
): number | undefined {
  if (isSparkWired) return sparkS === undefined ? undefined : Math.max(0, sparkS - gasS);
  return announcedDelayS ?? (sparksWithGas ? 0 : undefined);
}

/** A purge as it is stored, so that a note and its entry never differ, seconds. */
const roundPurge = (purgedS: number): number => Math.round(purgedS * 10) / 10;

/**
 * The purge before a trial as its entry has it, to a tenth of a second. Nothing before the first gas where no full purge was seen: what
 * was done before the recording began is not known, and a part of a purge would be read as a shortened one.
 */
export const purgeFacts = (purge: PurgeClock, purgeSeconds: number): Pick<Trial, 'purgeS' | 'purgeBy'> =>
  purge.needed || isPurgeSeen(purge, purgeSeconds)
    ? { purgeS: roundPurge(purge.purgedS), ...(purge.by && { purgeBy: purge.by }) }
    : {};

/** What is to be reported of a purge that was too short when gas came on; undefined where it was long enough or none is insisted on. */
export function purgeShortfall({ needed, purgedS, waitedS }: PurgeClock, purgeSeconds: number): string | undefined {
  const purgeS = roundPurge(purgedS);
  if (!needed || purgeS >= purgeSeconds) return undefined;
  const waited = waitedS >= 1 ? ` Waited ${Math.floor(waitedS)} s without known air.` : '';
  return `Purge shortened: ${formatPurge(purgeS)} of ${Math.ceil(purgeSeconds)} s.${waited}`;
}
