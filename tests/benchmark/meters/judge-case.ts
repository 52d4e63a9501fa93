import type { CaseVerdict } from './kind.ts';
import { kinds } from './kinds/kinds.ts';

/** One case to draw and to judge. */
export interface CaseTask {
  kind: string;
  seed: number;
}

export const run = ({ kind, seed }: CaseTask): CaseTask & CaseVerdict => ({
  kind,
  seed,
  ...kinds.find(({ name }) => name === kind)!.judge(seed),
});
