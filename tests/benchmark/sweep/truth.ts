import type { IntervalStatus } from '../../../shared/model/results/analysis-result.ts';
import { type Setup, setupDefaults } from '../../../shared/model/setup.ts';
import { steady, type TrueCurve } from './burner.ts';

/** The true result of a sweep; ends undefined where they are open. */
export interface SweepTruth {
  status: IntervalStatus;
  low?: number;
  high?: number;
  plateau: number;
}

const steps = 20_000;

/** The result that the definitions (plateau, required signal, signal interval) give for a curve and its tested pressures. */
export function truthOf(curve: TrueCurve, tested: [number, number], setup: Setup): SweepTruth {
  const at = (i: number) => tested[0] + ((tested[1] - tested[0]) * i) / steps;
  let top = 0;
  for (let i = 1; i <= steps; i += 1) if (steady(curve, at(i)) > steady(curve, at(top))) top = i;
  const plateau = steady(curve, at(top));
  const drop = setup.signalDropFraction ?? setupDefaults.signalDropFraction;
  const required = Math.max(setup.minimumSignal?.value ?? 0, (1 - drop) * plateau);
  const good = (p: number) => steady(curve, p) >= required;
  if (!good(at(top))) return { status: 'none', plateau };
  const low = outward(good, at, top, -1);
  const high = outward(good, at, top, 1);
  const status =
    low === undefined ? (high === undefined ? 'open-both' : 'open-low') : high === undefined ? 'open-high' : 'bounded';
  return { status, plateau, ...(low !== undefined && { low }), ...(high !== undefined && { high }) };
}

/**
 * Where the signal stops being good on the way outward, by bisection of one step; undefined when the tested pressures end
 * first.
 */
function outward(good: (p: number) => boolean, at: (i: number) => number, top: number, by: 1 | -1): number | undefined {
  const last = by > 0 ? steps : 0;
  let i = top;
  while (i !== last && good(at(i + by))) i += by;
  if (i === last) return undefined;
  let [inside, outside] = [at(i), at(i + by)];
  for (let k = 0; k < 40; k += 1) {
    const half = (inside + outside) / 2;
    if (good(half)) inside = half;
    else outside = half;
  }
  return inside;
}
