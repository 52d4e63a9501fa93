import { nextLanglie } from '../light-off/sensitivity/langlie.ts';
import { nextNeyer } from '../light-off/sensitivity/neyer.ts';
import { fitProbit } from '../light-off/sensitivity/probit.ts';
import { nextUpAndDown, type Response } from '../light-off/sensitivity/up-and-down.ts';
import type { Candidate } from '../model/results/advice.ts';
import type { TrialMethod } from '../model/setup.ts';
import { candidateAt } from './candidates.ts';
import type { Side } from './side.ts';
import type { Limits, Situation } from './situation.ts';

/** Most trials of a test of the threshold on a side: half of them fail where half fail, so as many failures as agreed are expected. */
export const trialsOfMethod = ({ mostFailures }: Pick<Limits, 'mostFailures'>): number => 2 * mostFailures;

/**
 * The next level of each test, as a distance between 0 and the innermost limit. Up-and-down begins in the middle with steps of a quarter
 * of the way; Neyer's test guesses a deviation of a tenth of it.
 */
const nextLevel: Record<TrialMethod, (before: readonly Response[], reach: number) => number> = {
  'up-and-down': (before, reach) => {
    const [last, step] = [before.at(-1), reach / 4];
    // The levels are fixed (Dixon and Mood): what a level was rounded to, or missed by, is not carried on.
    return last ? nextUpAndDown({ ...last, level: step * Math.round(last.level / step) }, step) : reach / 2;
  },
  langlie: (before, reach) => nextLanglie(before, 0, reach),
  neyer: (before, reach) => nextNeyer(before, { low: 0, high: reach, sigma: reach / 10 }),
};

/** Trials that light at the innermost limit show that the threshold lies beyond it; more of them change nothing. */
const enoughAtLimit = 2;

/** Why a test of the threshold goes on no further on a side. */
export type MethodEnd = 'made' | 'at-limit' | 'at-setting';

/** Whether, and why, a test is over on a side that is not closed; undefined where it goes on. */
export function endOfMethod(
  method: TrialMethod,
  side: Side,
  { unit, limits }: Pick<Situation, 'unit' | 'limits'>,
  setting: NonNullable<Situation['setting']>,
): MethodEnd | undefined {
  const atLimit = side.responses.filter(({ level }) => level >= side.reach - setting.tolerance);
  if (atLimit.length >= enoughAtLimit && side.failures === 0) return 'at-limit';
  if (side.made >= trialsOfMethod(limits)) return 'made';
  return levelOf(method, side, unit, setting) ? undefined : 'at-setting';
}

/** The next level of a test as a trial; undefined where it counts as the setting. */
function levelOf(
  method: TrialMethod,
  side: Side,
  unit: Situation['unit'],
  setting: NonNullable<Situation['setting']>,
): Candidate | undefined {
  const level = nextLevel[method](side.responses, side.reach);
  return Number.isFinite(level)
    ? candidateAt(side, Math.min(side.reach, Math.max(0, level)), unit, setting)
    : undefined;
}

/**
 * The next trial of a test of the threshold on a side, within every limit. None where the side is closed, where as many trials were made
 * as are expected to cost the failures agreed, where it lit at the limit twice, or where the test would go on at the setting itself.
 */
export function methodCandidate(
  method: TrialMethod,
  side: Side,
  { unit, limits }: Pick<Situation, 'unit' | 'limits'>,
  setting: NonNullable<Situation['setting']>,
): Candidate[] {
  if (side.closed || endOfMethod(method, side, { unit, limits }, setting)) return [];
  const found = levelOf(method, side, unit, setting);
  return found ? [found] : [];
}

/**
 * The distance from the setting at which half of the trials on a side fail, and the deviation of the threshold, by maximum likelihood of a
 * normal threshold from the trials of a test. Undefined where what lit and what failed do not overlap.
 */
export const thresholdOf = ({ responses }: Side): { mu: number; sigma: number } | undefined =>
  responses.some(({ responded }) => responded) && responses.some(({ responded }) => !responded)
    ? fitProbit(responses)
    : undefined;
