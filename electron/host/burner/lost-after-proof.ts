import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';
import type { Target } from '../acquire/record/store-writer.ts';
import type { HostContext } from '../host-context.ts';
import { ignoringStoreFaults } from '../store/store-fault.ts';
import { correctOwnTrial } from '../store/trials.ts';

/** A stored trial whose flame was proved. Times are elapsed times of its capture, seconds. */
export interface ProvedTrial {
  key: number;
  id: number;
  /** End of the trial for ignition. */
  untilS: number;
}

/**
 * Corrects a stored trial whose flame went out again within the trial for ignition and did not come back in it: a control would have
 * found no flame at its end and locked out. One whose flame came back counts as lit, and says so. The flame is followed from its first sign on, before the trial is stored.
 */
export interface LostAfterProof {
  /** Gas came on: a flame that is lost from now on belongs to its trial. */
  begin(): void;
  /** The trial is stored as lit. */
  stored(trial: ProvedTrial): void;
  /** One more statement about the burner, while this capture is recorded. */
  step(now: BurnerNow, target: Target): void;
  /** The recording ends: what was seen until now decides. */
  settle(): void;
}

/** The tracker speaks of a moment so long ago, seconds: a flame that came back at the very end of the trial is seen by then. */
const seenByS = 1;

/** Makes one. A signal meter that fails says nothing of a loss. */
export function createLostAfterProof(context: () => HostContext): LostAfterProof {
  let lostS: number | undefined;
  let hasBurned = false;
  let wentOutS: number | undefined;
  let open: ProvedTrial | undefined;

  const settle = () => {
    if (!open) return;
    const { key, id, untilS } = open;
    open = undefined;
    const isLost = lostS !== undefined && lostS <= untilS;
    if (!isLost && !(wentOutS !== undefined && wentOutS <= untilS)) return;
    const { store, owner, topics } = context();
    ignoringStoreFaults(store.file, () => {
      correctOwnTrial(store.db, key, owner, id, {
        changes: isLost ? { lit: false } : {},
        reason: isLost
          ? 'The flame was proved and went out again within the trial for ignition.'
          : 'The flame was proved, went out, and came back within the trial for ignition.',
      });
      topics.captures.notify();
    });
  };

  return {
    begin() {
      settle();
      [lostS, hasBurned, wentOutS] = [undefined, false, undefined];
    },
    stored(trial) {
      open = trial;
    },
    step(now, target) {
      const atS = now.atS - target.zeroMs / 1000;
      const { gas, flame } = now.moment;
      if (flame === 'burning' || flame === 'unsteady') {
        if (hasBurned) wentOutS ??= lostS;
        hasBurned = true;
        lostS = undefined;
      }
      if (gas === 'flowing' && (flame === 'lost' || flame === 'dark')) lostS ??= atS;
      if (open?.key !== target.key) open = undefined;
      if (open && (atS > open.untilS + seenByS || gas === 'shut')) settle();
    },
    settle,
  };
}
