import type { IntervalStatus } from '../../../shared/model/results/analysis-result.ts';

/** What is true of a steady curve by the definitions; ends undefined where the tested pressures end first. */
export interface WildTruth {
  status: IntervalStatus;
  low?: number;
  high?: number;
  plateau: number;
  required: number;
}

const steps = 4000;

/**
 * Plateau (highest steady level within the tested pressures), required signal, and the run of pressures around the plateau at or above it.
 *
 * @param steady  signal that a meter shows after waiting long enough at a pressure
 */
export function truthOf(
  steady: (pressure: number) => number,
  [lowest, highest]: readonly [number, number],
  { minimum = 0, drop = 0.1 }: { minimum?: number; drop?: number } = {},
): WildTruth {
  const at = (i: number) => lowest + ((highest - lowest) * i) / steps;
  let top = 0;
  for (let i = 1; i <= steps; i += 1) if (steady(at(i)) > steady(at(top))) top = i;
  const plateau = steady(at(top));
  const required = Math.max(minimum, (1 - drop) * plateau);
  if (plateau < required) return { status: 'none', plateau, required };
  const outward = (by: 1 | -1): number | undefined => {
    let i = top;
    while (i + by >= 0 && i + by <= steps && steady(at(i + by)) >= required) i += by;
    if (i + by < 0 || i + by > steps) return undefined;
    let [good, bad] = [at(i), at(i + by)];
    for (let k = 0; k < 40; k += 1) {
      const half = (good + bad) / 2;
      if (steady(half) >= required) good = half;
      else bad = half;
    }
    return good;
  };
  const [low, high] = [outward(-1), outward(1)];
  const status =
    low === undefined ? (high === undefined ? 'open-both' : 'open-low') : high === undefined ? 'open-high' : 'bounded';
  return { status, plateau, required, ...(low !== undefined && { low }), ...(high !== undefined && { high }) };
}
