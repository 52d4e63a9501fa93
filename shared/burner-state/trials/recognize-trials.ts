import type { Reading } from '../../model/reading.ts';
import { firstIndexWhere } from '../../numerics/search.ts';
import { measureTrial, type MeasuredTrial } from './measure-trial.ts';
import { noTrialWords } from './no-trial.ts';
import type { StateSpan } from '../track.ts';

/** A trial found in a capture, and by when it was over. */
export interface RecognizedTrial extends MeasuredTrial {
  endS: number;
}

/** Seconds of gas shut before a trial and of what came after it that the measurement sees. */
const marginS = 3;
/** No valve shuts and opens again within so short a time, seconds: one that had stuck half way opened at once. */
const shortestShutS = 0.5;

/**
 * Finds the light-off trials of a capture: gas that came on after it had been shut, until the flame was proved and for the trial's
 * length at most, or until gas was shut again.
 *
 * @param spans            of `trackCapture`
 * @param burningPressure  at which the pilot burned, inH2O; undefined where it never did
 * @param fanOnly          pressure of the fan alone as entered, inH2O
 */
export function recognizeTrials(
  spans: readonly StateSpan[],
  readings: readonly Reading[],
  {
    provingSignal,
    trialSeconds,
    burningPressure: burning,
    fanOnly,
  }: { provingSignal: number; trialSeconds: number; burningPressure: number | undefined; fanOnly?: number | undefined },
): RecognizedTrial[] {
  const found: RecognizedTrial[] = [];
  const ordered = readings.toSorted((a, b) => a.elapsedS - b.elapsedS);
  spans.forEach((span, k) => {
    if (span.gas !== 'opening' && span.gas !== 'flowing') return;
    // Between shut and opening there may be a tenth of a second of which nobody can say anything.
    const last = spans.slice(0, k).findLastIndex(({ gas }) => gas !== 'unknown');
    if (spans[last]?.gas !== 'shut' || span.from_s - spans[last].to_s > marginS) return;
    // It was shut for as long as it was, whatever flame, purge or wait those spans say.
    const shutFromS = spans[spans.slice(0, last).findLastIndex(({ gas }) => gas !== 'shut') + 1]!.from_s;
    if (spans[last].to_s - shutFromS < shortestShutS) return;
    const later = spans.slice(k);
    const shut = later.find(({ gas }) => gas === 'closing' || gas === 'shut');
    const endS = Math.min(shut?.from_s ?? Infinity, span.from_s + trialSeconds + 1);
    const fromS = Math.max(shutFromS, span.from_s - marginS);
    const untilS = Math.min(endS, spans.at(-1)!.to_s) + marginS;
    const around = between(ordered, fromS, untilS);
    const measured = measureTrial(around, { fromS, untilS, provingSignal, trialSeconds });
    if (!measured) return;
    // A flame that burned before: the manometer did not see the gas come on, but its hose put back.
    const burnedS = later.find(({ flame }) => flame === 'burning')?.from_s ?? Infinity;
    if (burnedS < measured.gasS - marginS) return;
    if (!noTrialWords(measured, shut && shut.from_s <= endS ? 'gas-shut' : 'time-over', { burning, fanOnly }))
      found.push({ ...measured, endS: Math.min(endS, spans.at(-1)!.to_s) });
  });
  return found;
}

/** Readings with times from `fromS` to `untilS`, of readings in the order of their times. */
function between(ordered: readonly Reading[], fromS: number, untilS: number): Reading[] {
  const first = firstIndexWhere(ordered.length, (i) => ordered[i]!.elapsedS >= fromS);
  return ordered.slice(
    first,
    firstIndexWhere(ordered.length, (i) => ordered[i]!.elapsedS > untilS),
  );
}
