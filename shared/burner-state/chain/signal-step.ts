/** Levels and noise of the flame signal, in its unit. */
export interface SignalLevels {
  /** Signal without a flame, and how well that is known (standard uncertainty). */
  dark: number;
  darkUncertainty: number;
  darkKnown: boolean;
  /** Height of the plateau above dark. */
  height: number;
  /** Whether a flame has burned long enough for `height` to be measured, not assumed. */
  heightKnown: boolean;
  /** Standard deviation of the noise with a steady flame and without one. */
  noise: number;
  darkNoise: number;
  /** How probable each of `lagSeconds` is for this detector; adds up to 1. */
  lagShares: Float64Array;
}

/** A signal of this share of the plateau or more may be a flame's, whatever else it is. */
export const likeFlame = 0.75;

/** One reading of the flame signal with what came before it. Seconds; the signal in its unit. */
export interface SignalStep {
  value: number;
  /** The reading before; equal to `value` for the first. */
  before: number;
  sinceS: number;
  /** The change before that, over its own seconds; 0 when there was none. */
  changeBefore: number;
  beforeS: number;
  /** How fast it has changed over the last half second or so, per second. */
  rate: number;
  /** How fast the pilot pressure moved in the last seconds, inH2O per second: the signal follows it on a shoulder. */
  pressureRate: number;
  /** Whether that is more than the manometer's noise. */
  pressureMoves: boolean;
  /** The manometer is known to show gas, and has shown it shut for some seconds: a signal, however high, may be none of a flame. */
  isShutSurely?: boolean;
  /** It was there for longer before the gas than the slowest gauge takes to show gas. */
  isLingering?: boolean;
}

/** How a flame signal behaves. */
export const signalPatterns = [
  'fallen',
  'rising',
  'steady',
  'following',
  'flickering',
  'disturbed',
  'faint',
  'without-gas',
  'lingering',
] as const;
export type SignalPattern = (typeof signalPatterns)[number];

/** Densities of a reading for each pattern, with each of `lagSeconds`: pattern by pattern, `lags` numbers each. */
export type SignalDensities = Float64Array;
