import { leastFanPressure } from '../air.ts';
import { stepS } from './states.ts';
import { slowestGaugeS } from './stray-signal.ts';

/** Follows whether the manometer has shown the entered fan-only pressure ever since its first reading: its hose is on then, and gas is shut. */
export interface EnteredFan {
  /** One more step, with its pressure in inH2O; `isBright`: before it something was most probably seen over shut gas. */
  step(pressure: number | undefined, isBright: boolean): void;
  /** Gas is shut whatever the signal shows, or came on a moment ago under a signal that was there before. */
  isShutSurely(): boolean;
}

/** So near to the entered pressure a manometer shows it, inH2O or as a share of it. */
const near = { least: 0.03, share: 0.05 };
/** Without a first reading by then nobody knows, seconds. */
const firstReadingS = 1;

/** @param entered  fan-only pressure as entered, inH2O; one that shows no fan tells a hose that is on from none */
export function createEnteredFan(entered: number | undefined): EnteredFan {
  let isShown = entered !== undefined && entered > leastFanPressure;
  let unreadS: number | undefined = 0;
  /** How long ago gas came on under a signal, seconds. */
  let sinceGasS = Infinity;
  return {
    step(pressure, isBright) {
      sinceGasS += stepS;
      if (!isShown) return;
      if (pressure === undefined) {
        if (unreadS !== undefined) unreadS += stepS;
        isShown = unreadS === undefined || unreadS <= firstReadingS;
        return;
      }
      unreadS = undefined;
      isShown = Math.abs(pressure - entered!) <= Math.max(near.least, near.share * entered!);
      if (!isShown && isBright) sinceGasS = 0;
    },
    isShutSurely: () => isShown || sinceGasS < slowestGaugeS,
  };
}
