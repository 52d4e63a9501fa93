import { quantile } from '../../../numerics/descriptive.ts';
import type { TimeSpan } from '../../../model/sweeps.ts';
import { runsWhere, type Series } from '../series/series.ts';

/** Below this share of what it usually shows while a flame burns a manometer shows no gas that a flame could burn on. */
const nothingShare = 0.03;
/** A signal above this share of the highest shows a flame. */
const flameShare = 0.5;
/** So long a flame's signal stays that high behind the slowest detector after its gas was shut, seconds (common practice: lags of 3 s). */
const outlivesS = 4;
/** Seconds before and after it in which the manometer falls and comes back. */
const marginS = 1;

/**
 * Stretches in which the manometer shows nothing though the flame burns on: its hose was pulled off, or its tap shut. Empty for one that
 * shows next to nothing all the time, as with its hose on the wrong port, and where the signal meter itself stands still.
 *
 * @param signal  all readings of the sweep
 */
export function withoutPressure(pressure: Series, signal: Series): TimeSpan[] {
  const isFlame = flameShare * quantile(signal.value, 0.95);
  const usual = quantile(pressure.value, 0.75);
  if (!(usual > 0)) return [];
  const { time, value } = pressure;
  return runsWhere(time.length, (i) => Math.abs(value[i]!) < nothingShare * usual).flatMap(([from, to]) => {
    const [fromS, toS] = [time[from]!, time[to - 1]!];
    const after = signal.value.filter((_, i) => signal.time[i]! >= fromS && signal.time[i]! <= fromS + outlivesS);
    const burnsOn =
      toS - fromS > outlivesS && after.length > 2 && after.every((level) => level > isFlame) && new Set(after).size > 1;
    return burnsOn ? [{ fromS: fromS - marginS, toS: toS + marginS }] : [];
  });
}
