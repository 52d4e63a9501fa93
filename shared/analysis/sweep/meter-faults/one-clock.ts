import type { StateSpan } from '../../../burner-state/track.ts';
import { comesIn } from '../../../model/burner-words.ts';
import type { Reading } from '../../../model/reading.ts';
import { quantileSorted } from '../../../numerics/descriptive.ts';
import { longestLag } from '../series/initial-estimates.ts';

/** A flame takes hold above this share of its usual signal, and has gone out below that one. */
const litAbove = 0.5;
const darkBelow = 0.2;
/** By so much a flame may seem to go before the gas, seconds: the manometer falls slowly behind a damped line. */
const earlierS = 1;

/** Moments at which something came on and went off, seconds. */
interface Changes {
  on: number[];
  off: number[];
}

/**
 * Whether gas and flame come and go together as the times stand, and less so if those of the signal were `apartS` seconds off: then the
 * meters share one clock, however well another one would explain the curve. A flame that was lost and lit again by a spark at another
 * pressure makes such a curve.
 *
 * @param readings      of the whole capture, with what came before and after the sweep
 * @param apartS        seconds by which the signal seems to follow the pressure; negative: to come before it
 * @param trialSeconds  longest time from gas to flame
 */
export function shareOneClock(
  spans: readonly StateSpan[],
  readings: readonly Reading[],
  apartS: number,
  trialSeconds: number,
): boolean {
  const gas = gasChanges(spans);
  const flame = flameChanges(readings);
  const together = (offS: number): number => {
    const isNear = (times: readonly number[], atS: number, mostS: number) =>
      times.some((t) => t - offS - atS >= -earlierS && t - offS - atS <= mostS);
    return (
      gas.on.filter((atS) => isNear(flame.on, atS, trialSeconds + longestLag)).length +
      gas.off.filter((atS) => isNear(flame.off, atS, longestLag)).length
    );
  };
  return together(0) > together(apartS);
}

function gasChanges(spans: readonly StateSpan[]): Changes {
  const changes: Changes = { on: [], off: [] };
  let isOn: boolean | undefined;
  for (const { gas, from_s } of spans) {
    // Between two states it is often unknown for some tenths of a second.
    if (gas === 'unknown') continue;
    const flows = comesIn(gas);
    if (isOn !== undefined && isOn !== flows) changes[flows ? 'on' : 'off'].push(from_s);
    isOn = flows;
  }
  return changes;
}

function flameChanges(readings: readonly Reading[]): Changes {
  const signal = readings
    .filter(({ role, value }) => role === 'flame_signal' && Number.isFinite(value))
    .toSorted((a, b) => a.elapsedS - b.elapsedS);
  const usual = quantileSorted(Float64Array.from(signal, ({ value }) => value).sort(), 0.9);
  const changes: Changes = { on: [], off: [] };
  let isLit: boolean | undefined;
  for (const { value, elapsedS } of signal) {
    const turns = isLit ? value < darkBelow * usual : value > litAbove * usual;
    if (isLit !== undefined && turns) changes[isLit ? 'off' : 'on'].push(elapsedS);
    isLit = turns ? !isLit : (isLit ?? false);
  }
  return changes;
}
