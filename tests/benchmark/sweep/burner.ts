/**
 * The steady signal: two shoulders, clipped at the amplifier's top, dark below the pressure of flame loss.
 * Pressures in inH2O, signals in V.
 */
export interface TrueCurve {
  dark: number;
  amplitude: number;
  low: number;
  lowWidth: number;
  high: number;
  highWidth: number;
  clip: number;
  lossBelow: number;
  /** How differently top and foot of a shoulder are rounded; 1: alike (logistic). */
  lowRound: number;
  highRound: number;
  /** The plateau bends down beyond `knee`, by the share `depth` at a distance `reach` (signed: the side it lies on). */
  sag?: { knee: number; reach: number; depth: number };
  /** A second plateau, lower by `share`, on one side of `at`: -1 the low side, 1 the high side. */
  step?: { at: number; width: number; share: number; side: -1 | 1 };
}

/**
 * Generalized logistic: 1 at plus infinity, with a top that rounds as exp(-x) and a foot that rounds as exp(x / round).
 * Source: Richards 1959, Journal of Experimental Botany 10, 290.
 */
const shoulder = (x: number, round: number): number =>
  round === 1 ? 1 / (1 + Math.exp(-x)) : (1 + Math.exp(-x)) ** (-1 / round);

/** Signal of a burning flame before the amplifier clips it. */
export function burning(c: TrueCurve, p: number): number {
  const full =
    c.amplitude * shoulder((p - c.low) / c.lowWidth, c.lowRound) * shoulder((c.high - p) / c.highWidth, c.highRound);
  const level = c.step ? full * (1 - c.step.share * shoulder((c.step.side * (p - c.step.at)) / c.step.width, 1)) : full;
  if (!c.sag) return c.dark + level;
  const beyond = Math.max(0, (p - c.sag.knee) / c.sag.reach);
  return c.dark + level * (1 - c.sag.depth * beyond * beyond);
}

/** Steady signal that a meter shows after waiting long enough at the pressure. */
export const steady = (c: TrueCurve, p: number): number => (p < c.lossBelow ? c.dark : Math.min(c.clip, burning(c, p)));
