import { stepS } from '../../../shared/burner-state/chain/states.ts';
import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';
import { addStretch, type Stretch, stretchKindOf } from '../../../shared/model/stretches.ts';

/** What the burner did since the capture that is being recorded began, as the tracker said it live. */
export interface BurnerHistory {
  /**
   * The tracker's word at a step. `capture` is the one being recorded, `elapsedS` its clock at the step; without one there is nothing to
   * keep. `nowS` is the tracker's clock. Gives whether a stretch has begun.
   */
  add(now: BurnerNow, nowS: number, capture: number | undefined, elapsedS: number): boolean;
  /** Of the capture with this key; empty for any other than the one being recorded. */
  stretches(capture: number): readonly Stretch[];
  /** Whether the regulator was turned with a flame burning since the capture began. */
  isTurned(capture: number): boolean;
  /** Takes over what `earlier` knows of a capture whose recording was interrupted; what lies between is not known. */
  addEarlier(capture: number, earlier: BurnerHistory): void;
}

/** A busy machine may let a step come late; the tracker has taken in what was read meanwhile. Seconds. */
const longestPauseS = 3;
/** A turn lasts longer than this; shorter ones are the scatter of the manometer. Our choice. */
const leastTurnS = 1;

export function createBurnerHistory(): BurnerHistory {
  let key: number | undefined;
  let stretches: Stretch[] = [];
  let turningS = 0;
  let turned = false;
  const beginWith = (capture: number | undefined) => {
    if (capture === key) return;
    key = capture;
    stretches = [];
    turningS = 0;
    turned = false;
  };
  return {
    add({ atS, moment }, nowS, capture, elapsedS) {
      beginWith(capture);
      const toS = elapsedS - (nowS - atS);
      if (key === undefined || toS <= 0) return false;
      const before = stretches.length;
      const fromS = Math.max(0, stretches.at(-1)?.toS ?? 0, toS - stepS);
      leaveUnknownUntil(stretches, fromS);
      addStretch(stretches, { fromS, toS: Math.max(toS, fromS), kind: stretchKindOf(moment) }, longestPauseS);
      const turns = moment.regulator === 'turning-in' || moment.regulator === 'turning-out';
      // While gas comes on or goes off the pressure moves without a hand.
      turningS = turns && stretchKindOf(moment) === 'lit' ? turningS + toS - fromS : 0;
      if (turningS > leastTurnS) turned = true;
      return stretches.length > before;
    },
    stretches: (capture) => (capture === key ? stretches : []),
    isTurned: (capture) => capture === key && turned,
    addEarlier(capture, earlier) {
      beginWith(capture);
      const all = [...earlier.stretches(capture)];
      // Without a step of its own so far, the first one finds the gap.
      if (stretches[0]) leaveUnknownUntil(all, stretches[0].fromS);
      stretches = [...all, ...stretches];
      turned ||= earlier.isTurned(capture);
    },
  };
}

/** Nobody looked between the last stretch and `fromS` when that is long after it. */
function leaveUnknownUntil(stretches: Stretch[], fromS: number): void {
  const last = stretches.at(-1);
  if (last && fromS - last.toS > longestPauseS) stretches.push({ fromS: last.toS, toS: fromS, kind: 'unknown' });
}
