import { type Fault, fault } from '../../model/faults.ts';
import type { Trial } from '../../model/capture.ts';
import type { FlameState } from '../../model/burner-words.ts';

/** What the meters have said of the flame of a trial. */
export interface FlameSeen {
  /** A flame was seen within the trial's time. */
  sawFlame: boolean;
  /** The flame at this very moment. */
  flame: FlameState;
  /** The flame signal meter is connected and sound. */
  isSignalSound: boolean;
  /** The flame signal now, with its unit. */
  shown: string;
}

/**
 * Why a verdict is to be asked about before it is taken: the meters say the opposite. Undefined where they agree or cannot tell.
 * Gives `verdict-contradicts-meters`.
 */
export function verdictDoubt(lit: boolean, { sawFlame, flame, isSignalSound, shown }: FlameSeen): Fault | undefined {
  if (!isSignalSound) return undefined;
  const burns = flame === 'burning' || flame === 'unsteady';
  const isDark = flame === 'dark' || flame === 'out' || flame === 'lost';
  if (lit && !sawFlame && isDark)
    return fault('verdict-contradicts-meters', { entered: 'Lit', meters: `no flame in this trial (now ${shown})` });
  if (!lit && (sawFlame || burns))
    return fault('verdict-contradicts-meters', {
      entered: 'Did not light',
      meters: `a flame in this trial (now ${shown})`,
    });
  return undefined;
}

/**
 * Why the correction of a verdict is to be asked about before it is taken: it turns round what the meters showed. Undefined otherwise.
 *
 * @param lit  the verdict as corrected; undefined where the correction leaves it
 */
export function correctionDoubt(
  entries: readonly (Trial & { id: number })[],
  id: number,
  lit: boolean | undefined,
): Fault | undefined {
  const entry = entries.find((one) => one.id === id);
  if (lit === undefined || entry?.knownBy !== 'meters' || entry.lit === lit) return undefined;
  return fault('verdict-contradicts-meters', {
    entered: lit ? 'Lit' : 'Did not light',
    meters: entry.lit ? 'a flame that was proved' : 'no flame proved within the trial',
  });
}
