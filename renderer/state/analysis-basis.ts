import type { CaptureView } from '../../shared/contract/api.ts';

/**
 * What an analysis of a capture rests on, as one text: trials, marks, setup and whether recording goes on. A result that was calculated
 * from another text is out of date. Notes and gaps of a meter change no result.
 */
export function analysisBasis({ status, trials, setup, marks }: AnalyzedRecord): string {
  return JSON.stringify([status, trials, setup, marks.filter(({ kind }) => kind !== 'note' && kind !== 'gap')]);
}

/** The part of a capture that decides what an analysis finds, beside the readings. */
export type AnalyzedRecord = Pick<CaptureView, 'id' | 'status' | 'trials' | 'setup' | 'marks'>;
