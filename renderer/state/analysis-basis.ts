import type { CaptureView } from '../../shared/contract/api.ts';
import type { MarkKind } from '../../shared/model/capture.ts';

/** Marks that change neither window nor trials: notes, gaps of a meter, and what is said of the fan, which only names a purge. */
const idleMarks: readonly MarkKind[] = ['note', 'gap', 'air-confirmed', 'air-stopped'];

/**
 * What the window of a capture and the advice on its trials rest on, as one text: trials, marks, setup and whether recording goes on. A
 * result that was calculated from another text is out of date.
 */
export const analysisBasis = ({ status, trials, setup, marks }: AnalyzedRecord): string =>
  JSON.stringify([status, trials, setup, marks.filter(({ kind }) => !idleMarks.includes(kind))]);

/** What the report on a capture rests on: the same and what is said of the fan, which its time line and its marks tell. */
export const reportBasis = (record: AnalyzedRecord): string =>
  JSON.stringify([analysisBasis(record), record.marks.filter(({ kind }) => kind.startsWith('air-'))]);

/** The part of a capture that decides what an analysis finds, beside the readings. */
export type AnalyzedRecord = Pick<CaptureView, 'id' | 'status' | 'trials' | 'setup' | 'marks'>;
