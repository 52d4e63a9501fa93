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
  /** Form of the shoulders: logistic when absent. A hump is Gaussian, with half of its height at `low` and `high`. */
  form?: 'hump' | 'power-high';
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

/** Share of the full signal of a curve that is not made of logistic shoulders. */
function otherShare(c: TrueCurve, p: number): number {
  if (c.form === 'hump') return 0.5 ** (((2 * p - c.low - c.high) / (c.high - c.low)) ** 2);
  // A power of the pressure that has taken half of the signal at `high`, with a slope of 1 / (4 highWidth) there.
  const taken = 0.5 * (Math.max(0, p) / c.high) ** (c.high / (2 * c.highWidth));
  return shoulder((p - c.low) / c.lowWidth, c.lowRound) * Math.max(0, 1 - taken);
}

/** Signal of a burning flame before the amplifier clips it. */
export function burning(c: TrueCurve, p: number): number {
  if (c.form) return c.dark + c.amplitude * otherShare(c, p);
  const full =
    c.amplitude * shoulder((p - c.low) / c.lowWidth, c.lowRound) * shoulder((c.high - p) / c.highWidth, c.highRound);
  const level = c.step ? full * (1 - c.step.share * shoulder((c.step.side * (p - c.step.at)) / c.step.width, 1)) : full;
  if (!c.sag) return c.dark + level;
  const beyond = Math.max(0, (p - c.sag.knee) / c.sag.reach);
  return c.dark + level * (1 - c.sag.depth * beyond * beyond);
}

/** Steady signal that a meter shows after waiting long enough at the pressure. */
export const steady = (c: TrueCurve, p: number): number => (p < c.lossBelow ? c.dark : Math.min(c.clip, burning(c, p)));
