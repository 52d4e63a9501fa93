import type { CaptureView } from '../../shared/contract/api.ts';
import type { MarkKind } from '../../shared/model/capture.ts';

/**
 * What an analysis of a capture rests on, as one text: trials, marks, setup and whether recording goes on. A result that was calculated
 * from another text is out of date. Notes and gaps of a meter change no result; what is said of the fan changes no more than what is called
 * a purge in the time line, which waits for the end of the recording: between two trials it changes every few seconds.
 */
export function analysisBasis({ status, trials, setup, marks }: AnalyzedRecord): string {
  const idle: readonly MarkKind[] =
    status === 'recording' ? ['note', 'gap', 'air-confirmed', 'air-stopped'] : ['note', 'gap'];
  return JSON.stringify([status, trials, setup, marks.filter(({ kind }) => !idle.includes(kind))]);
}

/** The part of a capture that decides what an analysis finds, beside the readings. */
export type AnalyzedRecord = Pick<CaptureView, 'id' | 'status' | 'trials' | 'setup' | 'marks'>;
