import type { Candidate } from '../model/advice.ts';
import { guardedNumber } from '../model/format.ts';
import type { Side } from './side.ts';
import type { Situation } from './situation.ts';

/**
 * Most that a trial may be expected to fail. The prior knows nothing: the pressure at which lighting ends is taken as equally likely
 * anywhere from what is proved to as far beyond the reach as that is from the setting, so that a pilot is as likely as not to light over
 * the whole reach. Under it a step of half the remaining way would gain most and fail half of the time; no failure is sought, so a step
 * is a quarter of it at most, and three trials of one side come to its end.
 */
const mostRisk = 1 / 4;

/**
 * The trials that could be made next on a side: the longest step that is allowed, and half of it. None where the side is closed, or where
 * the step is within the tolerance of what is proved already and so would change nothing.
 */
export function candidatesOf(
  side: Side,
  { unit }: Pick<Situation, 'unit'>,
  setting: NonNullable<Situation['setting']>,
): Candidate[] {
  if (side.closed) return [];
  const { name, proved, fails } = side;
  const longest = Math.min(side.reach - proved, mostRisk * (fails - proved));
  return [longest, longest / 2].flatMap((step): Candidate[] => {
    const exact = setting.pressure + (name === 'high' ? 1 : -1) * (proved + step);
    // As it can be set: rounded toward the setting, so that it stays inside every limit.
    const rounded = Number(guardedNumber(exact, unit, name === 'high' ? 'down' : 'up'));
    const pressure = name === 'high' ? Math.min(rounded, side.limit) : Math.max(rounded, side.limit);
    const gained = Math.abs(pressure - setting.pressure) - proved;
    if (!(gained > setting.tolerance)) return [];
    return [{ side: name, pressure, sparkDelay_s: 0, gain: gained * (1 - gained / (fails - proved)) }];
  });
}
