import type { Reading } from '../../model/reading.ts';
import { firstIndexWhere } from '../../numerics/search.ts';
import { measureTrial, type MeasuredTrial, shortestShutS } from './measure-trial.ts';
import { noTrialWords } from './no-trial.ts';
import type { StateSpan } from '../track.ts';

/** A trial found in a capture, and by when it was over. */
export interface RecognizedTrial extends MeasuredTrial {
  endS: number;
}

/** Seconds of gas shut before a trial and of what came after it that the measurement sees. */
const marginS = 3;

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
    const shutFromS = shutSince(spans.slice(0, k), span);
    if (shutFromS === undefined) return;
    const later = spans.slice(k);
    const shut = later.find(({ gas }) => gas === 'closing' || gas === 'shut');
    const endS = Math.min(shut?.from_s ?? Infinity, span.from_s + trialSeconds + 1);
    // Between shut and on there may be seconds of which nobody could say anything.
    const shutToS = spans.slice(0, k).findLast(({ gas }) => gas !== 'unknown')?.to_s ?? span.from_s;
    const fromS = Math.max(shutFromS, Math.min(shutToS, span.from_s) - marginS);
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

/**
 * Since when gas had been shut that comes on with `span`; undefined where it had not been.
 *
 * @param before  the spans before that one
 */
function shutSince(before: readonly StateSpan[], span: StateSpan): number | undefined {
  // Between shut and opening there may be a tenth of a second of which nobody can say anything.
  const last = before.findLastIndex(({ gas }) => gas !== 'unknown');
  if (before[last]?.gas === 'shut') {
    if (span.from_s - before[last].to_s > marginS) return undefined;
    // It was shut for as long as it was, whatever flame, purge or wait those spans say.
    const shutFromS = before[before.slice(0, last).findLastIndex(({ gas }) => gas !== 'shut') + 1]!.from_s;
    return before[last].to_s - shutFromS < shortestShutS ? undefined : shutFromS;
  }
  // A valve that leaks is not said to be shut, nor one behind a manometer whose zero has shifted: its gas comes on as it opens again.
  if (span.gas !== 'opening' && span.flame !== 'lighting') return undefined;
  const closed = before.findLastIndex(({ gas }) => gas === 'closing' || gas === 'shut');
  const since = before.slice(closed + 1);
  const isOnlyLost = since.length > 0 && since.every(({ gas, flame }) => gas === 'unknown' || flame === 'lost');
  return closed >= 0 && isOnlyLost ? before[closed]!.to_s : undefined;
}

/** Readings with times from `fromS` to `untilS`, of readings in the order of their times. */
function between(ordered: readonly Reading[], fromS: number, untilS: number): Reading[] {
  const first = firstIndexWhere(ordered.length, (i) => ordered[i]!.elapsedS >= fromS);
  return ordered.slice(
    first,
    firstIndexWhere(ordered.length, (i) => ordered[i]!.elapsedS > untilS),
  );
}
