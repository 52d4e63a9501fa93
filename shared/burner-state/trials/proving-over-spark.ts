import type { Levels } from '../chain/levels.ts';
import { likeFlame } from '../chain/signal-step.ts';

/**
 * The signal that proves a flame, in the signal's unit, where the spark may give a signal as well: half way between both, once the flame's is
 * known. Undefined where they cannot be told apart: only the technician sees what burns.
 *
 * @param proving  what proves a flame otherwise
 */
export function provingOverSpark(
  proving: number,
  { spark, dark, height, heightKnown }: Pick<Levels, 'spark' | 'dark' | 'height' | 'heightKnown'>,
): number | undefined {
  if (spark === undefined || spark < proving) return proving;
  return heightKnown && spark - dark < likeFlame * height ? (spark + dark + height) / 2 : undefined;
}
