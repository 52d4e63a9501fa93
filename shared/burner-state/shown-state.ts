import { comesIn, type FlameState, type GasState } from '../model/burner-words.ts';
import { leastProbability } from './chain/label.ts';
import { withoutFlame } from './doubts.ts';
import type { BurnerNow } from './tracker.ts';

const burns = (flame: FlameState): boolean => flame === 'burning' || flame === 'unsteady';

/**
 * Gas and flame as they stand beside the live numbers: the word of a second ago, which is the surer one, unless the newest readings
 * contradict it. What they show to be over is over; what they show to have come is on its way.
 */
export function shownState({ moment, latest, shut }: Pick<BurnerNow, 'moment' | 'latest' | 'shut'>): {
  gas: GasState;
  flame: FlameState;
} {
  if (isShutOff(moment, latest)) return { gas: 'closing', flame: 'out' };
  const gas = shownGas(moment.gas, latest.gas, shut);
  const flame = shownFlame(moment.flame, latest.flame);
  // A flame is out only until gas opens again.
  return { gas, flame: flame === 'out' && comesIn(gas) ? 'dark' : flame };
}

/**
 * Gas that was shut off under a flame, by the newest readings, while the word of a second ago is still out: "unknown" would ask for a gas
 * to be shut that just was.
 */
const isShutOff = (moment: BurnerNow['moment'], latest: BurnerNow['latest']): boolean =>
  moment.gas === 'unknown' && (latest.gas === 'shut' || latest.gas === 'closing') && latest.flame === 'out';

function shownGas(then: GasState, now: GasState, shut: number): GasState {
  // It is not known yet whether the pressure still moves, but what was said is not probable any more.
  if (now === 'unknown' && then === 'shut' && shut < 1 - leastProbability) return 'opening';
  if (now === 'unknown' && comesIn(then) && shut > 1 - leastProbability) return 'closing';
  if (then === 'unknown' || now === 'unknown' || comesIn(then) === comesIn(now)) return then;
  return now === 'shut' ? 'closing' : now;
}

function shownFlame(then: FlameState, now: FlameState): FlameState {
  if (then === 'unknown' || now === 'unknown' || burns(then) === burns(now)) return then;
  return burns(now) ? 'lighting' : now;
}

/** What the tracker says while what burns, by the signal, may be the spark: no flame was proved that could be lost. */
export const withoutFlameNow = (now: BurnerNow): BurnerNow => ({
  ...now,
  moment: withoutFlame(now.moment),
  latest: withoutFlame(now.latest),
  lost: 0,
  burned: false,
});
