import { logistic } from './response.ts';

/**
 * The steady flame signal of an invented pilot: pressures in inH2O, signals in V.
 * `ceiling` is the amplifier's maximum; below `lossBelow` the flame leaves the nozzle and goes out.
 */
export interface FlameCurve {
  dark: number;
  amplitude: number;
  low: { at: number; width: number };
  high: { at: number; width: number };
  ceiling: number;
  lossBelow: number;
}

/** Share of the full flame signal at `pressure`: the product of both shoulders, 0 to 1. */
export const flameShare = ({ low, high }: FlameCurve, pressure: number): number =>
  logistic((pressure - low.at) / low.width) * logistic((high.at - pressure) / high.width);

/** How restless the flame is: 1 half way down a shoulder, 0 far inside and far outside the window. */
export function restlessness(curve: FlameCurve, pressure: number): number {
  const share = flameShare(curve, pressure);
  return 4 * share * (1 - share);
}

/** What the meter would settle to, had one waited at `pressure` with the flame lit before: s(p) of the model. */
export function steadySignal(curve: FlameCurve, pressure: number): number {
  if (pressure < curve.lossBelow) return Math.min(curve.dark, curve.ceiling);
  return Math.min(curve.dark + curve.amplitude * flameShare(curve, pressure), curve.ceiling);
}

export interface TrueInterval {
  plateau: number;
  requiredSignal: number;
  status: 'bounded' | 'open-low' | 'open-high' | 'open-both' | 'none';
  /** The pressure of each end; the last tested pressure on a side that is open. */
  lowEdge: number;
  highEdge: number;
  /** What ends the signal on the low side. */
  lowCause: 'signal' | 'flame-lost' | 'tested-end';
}

/**
 * The signal interval as the analysis defines it, from the curve itself: plateau = highest level inside the tested
 * pressures, required = max(minimum, (1 - drop) x plateau), ends by bisection on the clipped curve.
 */
export function trueInterval(
  curve: FlameCurve,
  tested: readonly [number, number],
  required: { minimumSignal?: number; dropFraction: number },
): TrueInterval {
  const steps = 4000;
  const at = (i: number): number => tested[0] + ((tested[1] - tested[0]) * i) / steps;
  let top = 0;
  for (let i = 1; i <= steps; i += 1) if (steadySignal(curve, at(i)) > steadySignal(curve, at(top)) + 1e-12) top = i;
  const plateau = steadySignal(curve, at(top));
  const requiredSignal = Math.max(required.minimumSignal ?? 0, (1 - required.dropFraction) * plateau);
  const enough = (pressure: number): boolean => steadySignal(curve, pressure) >= requiredSignal;

  if (!enough(at(top)))
    return { plateau, requiredSignal, status: 'none', lowEdge: Number.NaN, highEdge: Number.NaN, lowCause: 'signal' };

  const endTowards = (outer: number): { pressure: number; open: boolean } => {
    // The curve rises, then falls, so between its top and a tested end it crosses at most once.
    if (enough(outer)) return { pressure: outer, open: true };
    let inside = at(top);
    let outside = outer;
    for (let i = 0; i < 60; i += 1) {
      const middle = (inside + outside) / 2;
      if (enough(middle)) inside = middle;
      else outside = middle;
    }
    return { pressure: inside, open: false };
  };
  const low = endTowards(tested[0]);
  const high = endTowards(tested[1]);
  const atLoss = Math.abs(low.pressure - curve.lossBelow) < 1e-9;
  return {
    plateau,
    requiredSignal,
    status: low.open ? (high.open ? 'open-both' : 'open-low') : high.open ? 'open-high' : 'bounded',
    lowEdge: low.pressure,
    highEdge: high.pressure,
    lowCause: low.open ? 'tested-end' : atLoss ? 'flame-lost' : 'signal',
  };
}
