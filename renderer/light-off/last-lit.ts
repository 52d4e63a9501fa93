import type { CaptureView } from '../../shared/contract/api.ts';
import { judgedTrials } from '../../shared/model/trials/valid-trials.ts';

/** Whether the last trial of the visit lit; undefined before the first. */
export const lastLitOf = ({ trials, setup }: Pick<CaptureView, 'trials' | 'setup'>): boolean | undefined =>
  judgedTrials(trials, setup).at(-1)?.lit;
