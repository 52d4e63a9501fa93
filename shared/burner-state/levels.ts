import { exp } from '../numerics/elementary.ts';
import type { SignalLevels } from './signal-likelihood.ts';

/** Estimates of the levels and the noise of both meters that follow the readings while the chain says what the burner does. */
export interface Levels extends SignalLevels {
  /** Standard deviation of the manometer's noise, inH2O. */
  pressureNoise: number;
  /** Whether a flame has burned long enough for `height` to be measured, not assumed. */
  heightKnown: boolean;
  darkKnown: boolean;
}

/** What is usual for a plateau in each unit before a flame was seen (common practice: 0 to 5 or 10 V, some microamps). */
export const usualHeight: Record<string, number> = { V: 3, mV: 3000, uA: 3, mA: 8, percent: 60 };

/** Assumed levels before anything was seen. `minimumSignal` (above dark) says which size of signal is meant. */
export function initialLevels(unit: string, minimumSignal?: number, dark?: number): Levels {
  const height = minimumSignal === undefined ? (usualHeight[unit] ?? 3) : 2 * minimumSignal;
  return {
    dark: dark ?? 0,
    darkUncertainty: (dark === undefined ? 0.03 : 0.01) * height,
    height,
    noise: 0.01 * height,
    darkNoise: 0.004 * height,
    pressureNoise: 0.01,
    heightKnown: false,
    darkKnown: dark !== undefined,
  };
}

/** One reading of the signal and how probable it is that it shows a settled dark, or a flame that burns steadily. */
export interface SettledReading {
  value: number;
  before: number;
  sinceS: number;
  dark: number;
  steady: number;
}

/** Ratio of a normal median absolute deviation to its standard deviation. */
const madShare = 0.6745;

/**
 * Follows a scale by its median: up a little when a deviation is larger than expected, down when it is smaller, so that no wild
 * reading moves it far. Source: Robbins and Monro 1951, Ann. Math. Stat. 22, 400 (stochastic approximation of a quantile).
 */
const followScale = (scale: number, deviation: number): number =>
  scale * (deviation > madShare * scale ? 1.03 : 1 / 1.03);

/** The levels after one more reading of the flame signal. Changes `levels`. */
export function followSignal(levels: Levels, reading: SettledReading): void {
  const { value, before, sinceS } = reading;
  const change = Math.abs(value - before) / Math.SQRT2;
  if (reading.dark > 0.95 && Math.abs(value - levels.dark) < 0.15 * levels.height) {
    // Ten seconds of dark are enough to know it; a first reading already tells more than an assumption.
    const share = levels.darkKnown ? 1 - exp(-sinceS / 10) : 0.3;
    levels.dark += share * (value - levels.dark);
    levels.darkUncertainty = Math.max(0.003 * levels.height, levels.darkUncertainty * (1 - 0.2 * share));
    levels.darkNoise = Math.max(0.002 * levels.height, followScale(levels.darkNoise, change));
    levels.darkKnown = true;
  }
  if (reading.steady > 0.9) {
    levels.noise = Math.min(0.04 * levels.height, Math.max(0.003 * levels.height, followScale(levels.noise, change)));
    const height = value - levels.dark;
    if (!levels.heightKnown && height > 0.2 * levels.height) {
      levels.height = height;
      levels.heightKnown = true;
    }
    // Up at once, down slowly: the highest steady signal is the plateau, and a sweep spends minutes off it.
    if (height > levels.height) levels.height += (1 - exp(-sinceS / 1)) * (height - levels.height);
    else levels.height -= (1 - exp(-sinceS / 600)) * (levels.height - Math.max(height, 0.3 * levels.height));
  }
}

/** The manometer's noise after one more reading at rest, inH2O; never below what its last digit leaves. */
export function followPressure(levels: Levels, change: number, resolution: number): void {
  const least = Math.max(0.001, resolution / Math.sqrt(12));
  const next = followScale(levels.pressureNoise, Math.abs(change) / Math.SQRT2);
  levels.pressureNoise = Math.min(0.05, Math.max(least, next));
}
