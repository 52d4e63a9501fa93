import { confirmedAir } from '../../../shared/burner-state/air.ts';
import type { Known } from '../../../shared/burner-state/chain/bins.ts';
import { roles } from '../../../shared/model/reading.ts';
import { isSaidGasOff } from '../../../shared/model/said-gas-off.ts';
import type { Target } from '../acquire/record/store-writer.ts';
import type { Store } from '../store/open.ts';
import { marksOf, unitsOf } from '../store/read/capture-rows.ts';
import { readBatch } from '../store/read/read-batch.ts';
import {
  type BurnerFollower,
  createBurnerFollower,
  followedValue,
  keptMs,
  stepMs,
  type TrackedReading,
  withoutOld,
} from './burner-follower.ts';
import { type BurnerHistory, createBurnerHistory } from './burner-history.ts';

/** What an interrupted recording says of the burner. */
export interface Replayed {
  /** Has taken in everything, on the monotonic clock. */
  follower: BurnerFollower;
  /** Of the capture, up to the interruption. */
  history: BurnerHistory;
  /** The readings of its last minutes. */
  last: TrackedReading[];
}

/** So long at a time, ms: what the ports bring meanwhile must be in the store within a quarter of a second. */
const sliceMs = 20;

/**
 * Follows the burner once more through the stored readings of an interrupted capture, in slices, so that the ports are not held up.
 * Undefined when `isOff` holds in between. Throws what the store throws.
 *
 * @param untilS  where the recording broke off, elapsed seconds
 */
export async function replayBurner(
  { db }: Pick<Store, 'db'>,
  { key, zeroMs }: Pick<Target, 'key' | 'zeroMs'>,
  { untilS, known, isOff }: { untilS: number; known: Known; isOff(): boolean },
): Promise<Replayed | undefined> {
  const follower = createBurnerFollower(known);
  const history = createBurnerHistory();
  const units = unitsOf(db, key);
  const marks = marksOf(db, key);
  const wasConfirmed = confirmedAir(marks);
  const saidOffS = marks.filter(isSaidGasOff).map(({ elapsedS }) => elapsedS);
  let last: TrackedReading[] = [];
  let steppedMs: number | undefined;
  let sliceEndMs = performance.now() + sliceMs;

  for (let batch = readBatch(db, key, 0); batch; batch = readBatch(db, key, batch.upTo)) {
    for (let i = 0; i < batch.role.length; i += 1) {
      const elapsedS = batch.elapsedS[i]!;
      if (elapsedS > untilS) continue;
      const role = roles[batch.role[i]!]!;
      const value = followedValue(role, units[role]!, batch.value[i]!);
      const atMs = zeroMs + elapsedS * 1000;
      steppedMs ??= atMs;
      // A recording has gaps of its own; the tracker forgets over them by itself.
      for (; steppedMs + stepMs <= atMs; steppedMs = atMs - steppedMs > keptMs ? atMs : steppedMs + stepMs) {
        const nowS = (steppedMs - zeroMs) / 1000;
        follower.step(steppedMs, wasConfirmed(nowS));
        if (saidOffS.some((s) => s > nowS - stepMs / 1000 && s <= nowS)) follower.confirmGasOff();
        if (follower.now) history.add(follower.now, steppedMs / 1000, key, nowS);
      }
      follower.reading(role, atMs, value);
      if (role === 'pilot_pressure' || role === 'flame_signal') last.push({ role, atMs, value });
      last = withoutOld(last, atMs);
      if (performance.now() < sliceEndMs) continue;
      await new Promise((resolve) => setImmediate(resolve));
      if (isOff()) return undefined;
      sliceEndMs = performance.now() + sliceMs;
    }
  }
  return { follower, history, last: last.filter((one) => one.atMs >= zeroMs + untilS * 1000 - keptMs) };
}
