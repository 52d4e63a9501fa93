import type { Fault } from '../../../shared/model/faults.ts';
import type { MappingPreview } from '../../../shared/model/logger/preview.ts';

/** Why a file cannot be imported yet; undefined when it can. */
export function waitingFor(
  preview: Pick<MappingPreview, 'questions' | 'problem'> | undefined,
  { isReading, isImporting, fault }: { isReading: boolean; isImporting: boolean; fault: Fault | undefined },
): string | undefined {
  if (isImporting) return 'Importing.';
  if (isReading) return 'Reading the file.';
  if (fault || !preview) return 'Import is not possible: the file cannot be read.';
  const open = preview.questions.length;
  if (open > 0) return `Import waits for ${open === 1 ? 'one answer' : `${open} answers`} above.`;
  return preview.problem === undefined ? undefined : 'Import is not possible: it cannot be read like this.';
}
