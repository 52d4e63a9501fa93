import type { Trial } from '../capture.ts';
import { type Setup, setupDefaults } from '../setup.ts';

/** What `validTrials` needs to know of an entry. */
type Entry = Pick<Trial, 'status' | 'corrects'>;

/**
 * The trials that count, of the whole record of a capture in the order of its entries.
 *
 * An entry that names another by `corrects` is about the same trial. Of all entries about one trial the last counts, and when that is
 * void, none does. A correction takes the place of the trial in the order, so that the trials stay in the order in which they were made.
 */
export const validTrials = <T extends Entry>(entries: readonly T[]): T[] =>
  lastEntries(entries).filter(({ status }) => status !== 'void');

/** The trials that were discarded, of the whole record: each as its last entry has it. */
export const discardedTrials = <T extends Entry>(entries: readonly T[]): T[] =>
  lastEntries(entries).filter(({ status }) => status === 'void');

/** Length of the trial for ignition, seconds: the setup's, or the usual one. */
export const trialSecondsOf = ({ pilotTrialSeconds }: Setup): number =>
  pilotTrialSeconds ?? setupDefaults.pilotTrialSeconds;

/** Purge before a trial, seconds: the setup's, or the usual one. */
export const purgeSecondsOf = ({ purgeSeconds }: Setup): number => purgeSeconds ?? setupDefaults.purgeSeconds;

/** Whether gas came on before the purge that the burner asks for was over; not where the purge is not known. */
export const isPurgeShort = ({ purgeS }: Pick<Trial, 'purgeS'>, setup: Setup): boolean =>
  purgeS !== undefined && purgeS < purgeSecondsOf(setup);

type Proof = Pick<Trial, 'sparkDelayS' | 'timeToProveS' | 'timeToProveFromSparkS'>;

/** Seconds from the gas until the flame was proved, at least: no flame is proved before its spark. 0 where nothing is known. */
export const provedAfter = ({ sparkDelayS = 0, timeToProveS = 0, timeToProveFromSparkS = 0 }: Proof): number =>
  Math.max(timeToProveS, sparkDelayS + timeToProveFromSparkS);

/** Whether the spark came when the trial for ignition was over: no flame can have been proved in it. */
export const isSparkTooLate = ({ sparkDelayS = 0 }: Proof, trialSeconds: number): boolean =>
  sparkDelayS >= trialSeconds;

/** Whether a trial counts as lit: proved within the trial for ignition. A control would have locked out on one proved later. */
export const isLit = (trial: Pick<Trial, 'lit'> & Proof, trialSeconds: number): boolean =>
  trial.lit && provedAfter(trial) <= trialSeconds && !isSparkTooLate(trial, trialSeconds);

/** Whether the flame is written down as proved before its spark, which cannot be: one of the two times is wrong. */
export const isProvedBeforeSpark = ({ sparkDelayS, timeToProveS }: Proof): boolean =>
  sparkDelayS !== undefined && timeToProveS !== undefined && timeToProveS < sparkDelayS;

/** The trials that count, each with the result that counts: one proved too late is not lit, whatever was written down. */
export const judgedTrials = <T extends Trial>(entries: readonly T[], setup: Setup): T[] =>
  validTrials(entries).map((trial) => ({ ...trial, lit: isLit(trial, trialSecondsOf(setup)) }));

/** The last entries about trials that were entered as not lit and corrected to lit, of the whole record. */
export function litByCorrection<T extends Entry & Pick<Trial, 'lit'>>(entries: readonly T[]): T[] {
  const firsts = firstEntries(entries);
  const unlit = new Set(firsts.filter((_, i) => !entries[i]!.lit));
  return [...lastByTrial(entries)].flatMap(([first, last]) =>
    unlit.has(first) && last.lit && last.status !== 'void' ? [last] : [],
  );
}

/** For each entry the number, from 1, of the later one that replaced it; undefined where it is the last about its trial. */
export function replacedBy(entries: readonly Entry[]): (number | undefined)[] {
  const firsts = firstEntries(entries);
  return firsts.map((first, i) => {
    const next = firsts.indexOf(first, i + 1);
    return next < 0 ? undefined : next + 1;
  });
}

/** Whether the last trial of a record lit; undefined before the first. */
export const lastLitOf = ({ trials, setup }: { trials: readonly Trial[]; setup: Setup }): boolean | undefined =>
  judgedTrials(trials, setup).at(-1)?.lit;

/** The last entry about each trial, in the order in which the trials were made. */
const lastEntries = <T extends Entry>(entries: readonly T[]): T[] => [...lastByTrial(entries).values()];

/** The same by the index of the first entry about the trial. */
function lastByTrial<T extends Entry>(entries: readonly T[]): Map<number, T> {
  const latest = new Map<number, T>();
  const firsts = firstEntries(entries);
  entries.forEach((entry, i) => latest.set(firsts[i]!, entry));
  return latest;
}

/** For each entry the index of the first one about the same trial. */
function firstEntries(entries: readonly Entry[]): number[] {
  const firsts: number[] = [];
  // An entry cannot correct one that comes after it.
  for (const [i, { corrects }] of entries.entries())
    firsts.push(corrects !== undefined && corrects <= i ? (firsts[corrects - 1] ?? i) : i);
  return firsts;
}
