import { nextLanglie } from '../light-off/sensitivity/langlie.ts';
import { nextNeyer } from '../light-off/sensitivity/neyer.ts';
import { nextUpAndDown, type Response } from '../light-off/sensitivity/up-and-down.ts';
import type { Candidate } from '../model/results/advice.ts';
import type { TrialMethod } from '../model/setup.ts';
import { candidateAt } from './candidates.ts';
import type { Side } from './side.ts';
import type { Limits, Situation } from './situation.ts';

/** Most trials of a test of the threshold on a side: half of them fail where half fail, so as many failures as agreed are expected. */
export const trialsOfMethod = ({ mostFailures }: Pick<Limits, 'mostFailures'>): number => 2 * mostFailures;

/** Whether a test that looks for failures may be chosen: where more than one on a side was agreed. */
export const mayChooseMethod = (mostFailures: number): boolean => mostFailures > 1;

/** The test of the threshold that is to be followed; undefined where none was chosen, or where it may not be. */
export const methodOf = ({ method, mostFailures }: Limits): TrialMethod | undefined =>
  mayChooseMethod(mostFailures) ? method : undefined;

/**
 * The next level of each test, as a distance between 0 and the innermost limit. Up-and-down begins in the middle with steps of a quarter
 * of the way; Neyer's test guesses a deviation of a tenth of it.
 */
const nextLevel: Record<TrialMethod, (before: readonly Response[], reach: number) => number> = {
  'up-and-down': (before, reach) => {
    const last = before.at(-1);
    return last ? nextUpAndDown(last, reach / 4) : reach / 2;
  },
  langlie: (before, reach) => nextLanglie(before, 0, reach),
  neyer: (before, reach) => nextNeyer(before, { low: 0, high: reach, sigma: reach / 10 }),
};

/**
 * The next trial of a test of the threshold on a side, within every limit. None where the side is closed, where as many trials were made
 * as are expected to cost the failures agreed, or where the test would go on at the setting itself.
 */
export function methodCandidate(
  method: TrialMethod,
  side: Side,
  { unit, limits }: Pick<Situation, 'unit' | 'limits'>,
  setting: NonNullable<Situation['setting']>,
): Candidate[] {
  if (side.closed || side.made >= trialsOfMethod(limits)) return [];
  const level = nextLevel[method](side.responses, side.reach);
  if (!Number.isFinite(level)) return [];
  const found = candidateAt(side, Math.min(side.reach, Math.max(0, level)), unit, setting);
  return found ? [found] : [];
}
