import type { Alarm } from '../../../shared/burner-state/alarms.ts';
import { knownFrom } from '../../../shared/burner-state/chain/bins.ts';
import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';
import { stretchKindOf } from '../../../shared/model/stretches.ts';
import { resumeAt } from '../capture/resume-at.ts';
import type { HostContext } from '../host-context.ts';
import { type CaptureRow, marksOf, newestRecording, setupOf, unitsOf } from '../store/read/capture-rows.ts';
import { replayBurner } from './replay-burner.ts';

/** Times of a mark and of the end of its capture are the same but for the rounding of a file, seconds. */
const sameS = 0.01;

/** The newest recording of this store, where it was cut off and nobody has said since that gas is shut. */
function cutOff({ store: { db } }: HostContext): CaptureRow | undefined {
  const newest = newestRecording(db);
  if (newest?.status !== 'interrupted') return undefined;
  const isSettled = marksOf(db, newest.key).some(
    ({ kind, elapsedS }) => kind === 'gas-shut' && elapsedS >= newest.duration_s - sameS,
  );
  return isSettled ? undefined : newest;
}

/** Whether gas was on and nothing burned, by the readings up to the last one; where they leave that open, by the word of a second before. */
function isUnlit({ latest, moment }: BurnerNow): boolean {
  const kind = stretchKindOf(latest);
  const known = kind === 'unknown' ? stretchKindOf(moment) : kind;
  return known === 'unlit' || known === 'lost';
}

/**
 * Gas that was on without a flame when the newest recording was cut off, by a kill or a dead battery: nobody has seen it shut. Undefined
 * where there is nothing to say, or when `isOff` holds meanwhile. Throws what the store throws.
 */
export async function interruptedGas(
  context: HostContext,
  isOff: () => boolean,
): Promise<{ capture: CaptureRow; alarm: Alarm } | undefined> {
  const { store, clock } = context;
  const capture = cutOff(context);
  if (!capture) return undefined;
  const { key, duration_s: untilS } = capture;
  const { nowS } = resumeAt(capture, clock.wallMs());
  const zeroMs = clock.monotonicMs() - nowS * 1000;
  const known = knownFrom(setupOf(capture), unitsOf(store.db, key).flame_signal ?? 'V');
  const replayed = await replayBurner(store, { key, zeroMs }, { untilS, known, isOff });
  const now = replayed?.follower.now;
  if (!now || isOff() || !(replayed.follower.alarm || isUnlit(now))) return undefined;
  return { capture, alarm: { kind: 'gas-unlit', sinceS: zeroMs / 1000 + untilS, interrupted: true } };
}
