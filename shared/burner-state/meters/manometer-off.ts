import type { FlameState } from '../../model/burner-words.ts';

/** Follows whether the manometer shows no gas while a flame burns: its hose is off, or its tap is shut. */
export interface ManometerOff {
  /** One more step of the chain, at its end in seconds; `shut`: where gas stands shut, inH2O, undefined before that is known. */
  step(endS: number, shown: { pressure: number | undefined; shut: number | undefined; flame: FlameState }): void;
  /** Since when, seconds; undefined while the manometer is believed. */
  sinceS(): number | undefined;
}

/** A flame outlives the gas by less than this, seconds; the signal's own lag is known to the chain. */
const outlivesS = 2;
/** Drift and meter let shut gas stand so much higher, inH2O, or by this share. */
const margin = { least: 0.06, share: 0.1 };
/** A hose that comes off lets the pressure fall by more than this in so long, inH2O and seconds. */
const leapsBy = 0.5;
const leapsInS = 1;
/** One reading from above is a spike; seconds. */
const backForS = 0.5;

/**
 * Makes one. Once off, a manometer that shows shut gas is believed no more, whatever the flame does: nobody sees whether the gas was shut.
 * It counts again when it has shown the pressure of gas for a while.
 */
export function createManometerOff(): ManometerOff {
  let lowSinceS: number | undefined;
  let burnedS = 0;
  let backS = 0;
  let off: number | undefined;
  let before: number | undefined;
  /** The last readings of gas, one at least, however slow the manometer is. */
  let above: { atS: number; value: number }[] = [];
  const burns = (flame: FlameState) => flame === 'burning' || flame === 'unsteady';
  return {
    step(endS, { pressure, shut, flame }) {
      const sinceS = before === undefined ? 0 : endS - before;
      before = endS;
      if (pressure === undefined || shut === undefined) {
        if (lowSinceS !== undefined && burns(flame)) burnedS += sinceS;
      } else if (pressure <= shut + Math.max(margin.least, margin.share * shut)) {
        // A hand takes longer to turn it down.
        if (lowSinceS === undefined && Math.max(...above.map(({ value }) => value)) - pressure >= leapsBy)
          lowSinceS = endS;
        above = [];
        backS = 0;
        if (lowSinceS !== undefined && burns(flame)) burnedS += sinceS;
      } else {
        above = [...above.filter(({ atS }) => atS > endS - leapsInS), { atS: endS, value: pressure }];
        backS += sinceS;
        if (backS < backForS && off !== undefined) return;
        [lowSinceS, burnedS, off] = [undefined, 0, undefined];
      }
      if (lowSinceS !== undefined && burnedS >= outlivesS) off ??= lowSinceS;
    },
    sinceS: () => off,
  };
}
