import { firstAfter, type LiveColumn } from '../state/live/live-buffer.ts';

/**
 * Time to prove: seconds from `startS` (gas on) to the first reading at or above `least`, which is in the unit of the column.
 * Undefined when the signal did not get there, or was there before the trial began, so that it proves nothing.
 */
export function timeToProve(signal: LiveColumn, startS: number, least: number): number | undefined {
  const first = firstAfter(signal, startS);
  const wasThere = first > 0 && signal.value[first - 1]! >= least && startS - signal.elapsedS[first - 1]! < staleS;
  if (wasThere) return undefined;
  for (let i = first; i < signal.length; i++)
    if (signal.value[i]! >= least) return Math.max(0, signal.elapsedS[i]! - startS);
  return undefined;
}

/** An older reading does not show what the signal was when the trial began. */
const staleS = 2;

/** What a regulator may need to settle after the valve opens, seconds. Practice. */
const settleS = 1;
/** A rise smaller than this share of the highest is noise: the gas was on all the time. */
const leastRise = 0.15;

/**
 * The pressure a trial was made at: median of what the manometer showed from `startS` on while the gas flowed. Before the
 * valve opens and after the control shuts it the gauge shows fan-only pressure; such readings, in the lower half of
 * what was seen, do not count, nor does the first second after the rise, where lock-up still bleeds off.
 */
export function pressureWithGas(pressure: LiveColumn, startS: number): number | undefined {
  const from = firstAfter(pressure, startS);
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let i = from; i < pressure.length; i++) {
    lowest = Math.min(lowest, Number.isNaN(pressure.value[i]!) ? lowest : pressure.value[i]!);
    highest = Math.max(highest, Number.isNaN(pressure.value[i]!) ? highest : pressure.value[i]!);
  }
  if (highest < lowest) return undefined;
  const rose = highest - lowest > leastRise * highest;
  const half = (lowest + highest) / 2;
  const flowing: { t: number; p: number }[] = [];
  for (let i = from; i < pressure.length; i++)
    if (!rose || pressure.value[i]! > half) flowing.push({ t: pressure.elapsedS[i]!, p: pressure.value[i]! });
  const settled = rose ? flowing.filter(({ t }) => t >= flowing[0]!.t + settleS) : flowing;
  const values = (settled.length > 0 ? settled : flowing).map(({ p }) => p).filter((p) => !Number.isNaN(p));
  return values.sort((a, b) => a - b)[values.length >> 1];
}
