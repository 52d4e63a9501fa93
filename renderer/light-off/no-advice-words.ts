import type { CaptureView } from '../../shared/contract/api.ts';
import { type Fault, isUnanswered } from '../../shared/model/faults.ts';

/** Why no next trial is named: the calculation gave no answer, or the sweep shows no window. */
export function noAdviceWords(fault: Pick<Fault, 'code' | 'message'>, { status }: Pick<CaptureView, 'status'>): string {
  if (isUnanswered(fault)) return `The next trial is not known. ${fault.message} Recalculate tries again.`;
  // Why there is no window may ask for a turn, which is not to be made here.
  return status === 'recording' ? 'The sweep shows no window: the step Window says why.' : fault.message;
}
