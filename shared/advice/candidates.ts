import type { Candidate } from '../model/results/advice.ts';
import { guardedNumber } from '../model/format.ts';
import type { Side } from './side.ts';
import type { Situation } from './situation.ts';

/**
 * Most that all trials outward on one side may be expected to fail, together. What the flame does while it burns says little about lighting,
 * so the pressure at which lighting ends is taken as equally likely anywhere from the setting to twice the distance at which the sweep
 * shows that the flame still holds: as likely as not a pilot lights over its whole window. Under that prior going outward by a distance d
 * fails with probability d / (2 window), in however many steps, for a step that lit makes the next one as much riskier; a limit of each
 * step would be none of the visit, and the end be found for sure. A quarter on each of two sides is one failure in two visits at most, and
 * most visits, 9/16, without any. Where more than one failure was agreed, each begins a quarter of what is left between the outermost
 * pressure that lit and the failure, so even then fewer than 1/4 + 1/16 + ... = 1/3 are expected on a side.
 */
const mostRisk = 1 / 4;

/** How far out on a side it is tried at most: the innermost limit, or the distance that is expected to fail as often as is borne. */
export const farthest = ({ reach, start, fails }: Side): number => Math.min(reach, start + mostRisk * (fails - start));

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
  const longest = farthest(side) - side.proved;
  return [longest, longest / 2].flatMap((step): Candidate[] => {
    const found = candidateAt(side, side.proved + step, unit, setting);
    return found && Math.abs(found.pressure - setting.pressure) - side.proved > setting.tolerance ? [found] : [];
  });
}

/** A trial with the spark at once at a distance, as it can be set; undefined where that counts as the setting. */
export function candidateAt(
  { name, limit, proved, fails }: Side,
  distance: number,
  unit: Situation['unit'],
  setting: NonNullable<Situation['setting']>,
): Candidate | undefined {
  const exact = setting.pressure + (name === 'high' ? 1 : -1) * distance;
  // Rounded toward the setting, so that it stays inside every limit.
  const rounded = Number(guardedNumber(exact, unit, name === 'high' ? 'down' : 'up'));
  const pressure = name === 'high' ? Math.min(rounded, limit) : Math.max(rounded, limit);
  const out = (name === 'high' ? 1 : -1) * (pressure - setting.pressure);
  if (!(out > setting.tolerance)) return undefined;
  const gained = out - proved;
  // Nothing is gained inside of what is proved, nor beyond a failure.
  const gain = Math.max(0, gained) * Math.max(0, 1 - gained / (fails - proved));
  return { side: name, pressure, sparkDelay_s: 0, gain: gained > 0 ? gain : 0 };
}
