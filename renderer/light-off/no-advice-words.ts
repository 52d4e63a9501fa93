import type { CaptureView } from '../../shared/contract/api.ts';
import { type Fault, isUnanswered } from '../../shared/model/faults.ts';
import { sweepsOf } from '../../shared/model/sweeps.ts';

/** Why no next trial is named: the calculation gave no answer, there is no sweep yet, or the sweep shows no window. */
export function noAdviceWords(
  fault: Pick<Fault, 'code' | 'message'>,
  { status, marks }: Pick<CaptureView, 'status' | 'marks'>,
): string {
  if (isUnanswered(fault)) return `The next trial is not known. ${fault.message} Recalculate tries again.`;
  // Why there is no window may ask for a turn, which is not to be made here.
  if (status !== 'recording') return fault.message;
  return sweepsOf(marks).some(({ isVoid }) => !isVoid)
    ? 'The sweep shows no window: the step Window says why.'
    : 'A sweep has to find the window first.';
}
