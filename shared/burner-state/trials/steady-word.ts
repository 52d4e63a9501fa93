import type { FlameState, GasState } from '../../model/burner-words.ts';

/** What is said of the burner. */
interface BurnerWord {
  gas: GasState;
  flame: FlameState;
  alarm?: unknown;
}

/** The last word without a doubt, and since when there is one, seconds; undefined while there is none. */
export interface SteadyMemory {
  gas: GasState;
  flame: FlameState;
  doubtSinceS: number | undefined;
}

/** So long a doubt is not shown, seconds: as gas comes on or a flame builds up, the readings are unclear for some tenths. */
export const longestDoubtS = 1;

/** What cannot be told of the one stands, as last known, beside what is told of the other. */
const known = <T extends string>(now: T, before: T): T => (now === 'unknown' ? before : now);

/**
 * The memory after one more word; the same object where nothing changed. Undefined where nobody says anything: that is no doubt of the
 * readings, and nothing of before it stands.
 */
export function rememberSure(
  memory: SteadyMemory | undefined,
  burner: BurnerWord | undefined,
  nowS: number,
): SteadyMemory | undefined {
  if (!burner) return undefined;
  const { gas, flame } = burner;
  if (gas !== 'unknown' && flame !== 'unknown') {
    const isSame = memory?.gas === gas && memory.flame === flame && memory.doubtSinceS === undefined;
    return isSame ? memory : { gas, flame, doubtSinceS: undefined };
  }
  if (!memory) return undefined;
  const next = {
    gas: known(gas, memory.gas),
    flame: known(flame, memory.flame),
    doubtSinceS: memory.doubtSinceS ?? nowS,
  };
  const isSame = next.gas === memory.gas && next.flame === memory.flame && memory.doubtSinceS !== undefined;
  return isSame ? memory : next;
}

/**
 * What the burner is said to do in a trial and after it: the last sure word until a doubt has lasted a second, so that it does not flip the card. An alarm,
 * and everything that is sure, come at once.
 *
 * @param memory  of `rememberSure` after this word
 */
export function steadyWord<T extends BurnerWord>(
  memory: SteadyMemory | undefined,
  burner: T | undefined,
  nowS: number,
): T | undefined {
  if (!burner || memory?.doubtSinceS === undefined || nowS - memory.doubtSinceS >= longestDoubtS) return burner;
  return { ...burner, gas: memory.gas, flame: memory.flame };
}
