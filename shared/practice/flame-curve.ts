import { logistic } from './response.ts';

/**
 * The steady-state flame signal of a simulated pilot: pressures in inH2O, signals in V.
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

/** Fraction of the full flame signal at `pressure`: the product of both shoulders, 0 to 1. */
export const flameFraction = ({ low, high }: FlameCurve, pressure: number): number =>
  logistic((pressure - low.at) / low.width) * logistic((high.at - pressure) / high.width);

/** How much the flame flickers: 1 halfway down a shoulder, 0 far inside and far outside the window. */
export function flickerLevel(curve: FlameCurve, pressure: number): number {
  const fraction = flameFraction(curve, pressure);
  return 4 * fraction * (1 - fraction);
}

/** What the meter settles to at `pressure` with the flame already lit: s(p) of the model. */
export function steadySignal(curve: FlameCurve, pressure: number): number {
  if (pressure < curve.lossBelow) return Math.min(curve.dark, curve.ceiling);
  return Math.min(curve.dark + curve.amplitude * flameFraction(curve, pressure), curve.ceiling);
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
  const isSufficient = (pressure: number): boolean => steadySignal(curve, pressure) >= requiredSignal;

  if (!isSufficient(at(top)))
    return { plateau, requiredSignal, status: 'none', lowEdge: Number.NaN, highEdge: Number.NaN, lowCause: 'signal' };

  const findEnd = (outer: number): { pressure: number; open: boolean } => {
    // The curve rises, then falls, so between its top and a tested end it crosses at most once.
    if (isSufficient(outer)) return { pressure: outer, open: true };
    let inside = at(top);
    let outside = outer;
    for (let i = 0; i < 60; i += 1) {
      const midpoint = (inside + outside) / 2;
      if (isSufficient(midpoint)) inside = midpoint;
      else outside = midpoint;
    }
    return { pressure: inside, open: false };
  };
  const low = findEnd(tested[0]);
  const high = findEnd(tested[1]);
  const isFlameLost = Math.abs(low.pressure - curve.lossBelow) < 1e-9;
  return {
    plateau,
    requiredSignal,
    status: low.open ? (high.open ? 'open-both' : 'open-low') : high.open ? 'open-high' : 'bounded',
    lowEdge: low.pressure,
    highEdge: high.pressure,
    lowCause: low.open ? 'tested-end' : isFlameLost ? 'flame-lost' : 'signal',
  };
}
