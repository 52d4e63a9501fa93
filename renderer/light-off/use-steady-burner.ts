import { useState } from 'react';
import { rememberSure, type SteadyMemory, steadyWord } from '../../shared/burner-state/trials/steady-word.ts';
import type { BurnerView } from '../../shared/contract/api.ts';
import { useLiveBurner } from './use-live-burner.ts';

/** Seconds after gas for which a trial has only just begun, as the page is told of it. */
const justBegunS = 2;

/**
 * What the burner does, for what is said of a trial and after it: a doubt of some tenths of a second does not show.
 *
 * @param gasS  when the gas of a running trial came on, where the meters showed it
 */
export function useSteadyBurner(now: number | undefined, gasS: number | undefined): BurnerView | undefined {
  const burner = useLiveBurner();
  const [memory, setMemory] = useState<SteadyMemory | undefined>(() => {
    const hasJustBegun = now !== undefined && gasS !== undefined && now - gasS < justBegunS;
    // As the trial was recognized: gas came on, and nothing burned.
    return hasJustBegun ? { gas: 'opening', flame: 'dark', doubtSinceS: undefined } : undefined;
  });
  // Without a clock no doubt would ever be over.
  if (now === undefined) return burner;
  const next = rememberSure(memory, burner, now);
  if (next !== memory) setMemory(next);
  return steadyWord(next, burner, now);
}
