import { median } from '../../../numerics/descriptive.ts';
import { robustDeviation } from '../../../numerics/robust.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import { slicesOf } from '../../sweep/series/slices.ts';

/** Pressures at which one sweep of a capture shows a good signal and another a bad one. */
export interface Disagreement {
  from: number;
  to: number;
}

/** Slices of the tested pressures; what lag and hysteresis leave of a difference is narrower than two of them. */
const slices = 24;
const minSlices = 2;
/** A median of fewer readings is any of them. */
const minReadings = 3;
/** The medians must be this many deviations of their noise away from what is required, beyond chance among dozens of slices. */
const deviations = 4;
/** Seconds without a reading of the signal by which two sweeps are apart where no mark parts them. */
const pauseS = 10;

/**
 * Looks for pressures at which two sweeps of a capture contradict each other: in one the signal is good over two neighboring slices,
 * in another it is not. Undefined where they agree, and where there is one sweep only.
 *
 * @param startsS   when marked sweeps began, seconds
 * @param required  required signal, unit of the pairs' signal
 */
export function findDisagreement(
  { elapsedS, pressure, signal }: Pairs,
  [lowest, highest]: readonly [number, number],
  startsS: readonly number[],
  required: number,
): Disagreement | undefined {
  const sweeps = sweepNumbers(elapsedS, startsS);
  const count = (sweeps.at(-1) ?? 0) + 1;
  if (count < 2) return undefined;
  const width = (highest - lowest) / slices;
  const members = Array.from({ length: count }, (_, sweep) => {
    const isIts = (_reading: number, i: number) => sweeps[i] === sweep;
    return slicesOf(pressure.filter(isIts), signal.filter(isIts), [lowest, highest], slices);
  });
  const verdictOf = (values: number[]): 'good' | 'bad' | undefined => {
    if (values.length < minReadings) return undefined;
    const all = Float64Array.from(values);
    const margin = deviations * robustDeviation(all) + 0.02 * Math.abs(required);
    const level = median(all);
    if (level > required + margin) return 'good';
    return level < required - margin ? 'bad' : undefined;
  };
  const verdicts = members.map((bySlice) => bySlice.map(verdictOf));
  let run = 0;
  for (let slice = 0; slice < slices; slice += 1) {
    const said = verdicts.map((bySlice) => bySlice[slice]);
    run = said.includes('good') && said.includes('bad') ? run + 1 : 0;
    if (run >= minSlices) return { from: lowest + (slice + 1 - run) * width, to: lowest + (slice + 1) * width };
  }
  return undefined;
}

/** For each reading the number of its sweep, from 0: a new one begins at a mark or after a pause. */
function sweepNumbers(elapsedS: Float64Array, startsS: readonly number[]): number[] {
  let sweep = 0;
  return Array.from(elapsedS, (t, i) => {
    const before = elapsedS[i - 1];
    if (before !== undefined && (t - before > pauseS || startsS.some((start) => before < start && start <= t)))
      sweep += 1;
    return sweep;
  });
}
