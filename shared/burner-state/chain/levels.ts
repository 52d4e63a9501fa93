import { exp } from '../../numerics/elementary.ts';
import type { FlameState } from '../../model/burner-words.ts';
import { usualLags } from './lags.ts';
import type { SignalLevels } from './signal-step.ts';

/** Estimates of the levels and the noise of both meters that follow the readings while the chain says what the burner does. */
export interface Levels extends SignalLevels {
  /** Strongest signal with the spark alone, as entered or as seen without gas, in the signal's unit; absent where there was none. */
  spark?: number;
  /** Standard deviation of the manometer's noise, inH2O. */
  pressureNoise: number;
  /** Last digit of the manometer, inH2O: the smallest step between two of its readings; Infinity before one was seen. */
  pressureDigit: number;
  /** Pressure while gas was last shut, inH2O; undefined before that was seen. */
  shutPressure: number | undefined;
  /** Pressure at which the pilot last burned, inH2O; undefined before that was seen. */
  burningPressure: number | undefined;
  /** Height of a burning flame above dark, averaged over some seconds, and the highest that it was; undefined before a flame was seen. */
  mean: number | undefined;
  plateau: number | undefined;
  /** Seconds over which `mean` is averaged: as long as there was a flame at first. */
  averageS: number;
  /** At how many moments a flame was said to burn, and of those, to be unsteady. */
  litMoments: number;
  unsteadyMoments: number;
  /** Pulses of a self-check seen, and seconds of burning in which they were looked for. */
  pulses: number;
  burningS: number;
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
    // Rather too large: a noisy dark must not look like a spark or a flame before it is known.
    darkNoise: 0.015 * height,
    pressureNoise: 0.01,
    pressureDigit: Infinity,
    shutPressure: undefined,
    burningPressure: undefined,
    mean: undefined,
    plateau: undefined,
    averageS: 0,
    litMoments: 0,
    unsteadyMoments: 0,
    lagShares: usualLags.slice(),
    heightKnown: false,
    darkKnown: dark !== undefined,
    pulses: 0,
    burningS: 0,
  };
}

/** Current without a flame of a meter that gives 4 to 20 mA, and how far its zero may be off. Source: IEC 60381-1:1982 (the range). */
const liveZero = { mA: 4, within: 0.4 };

/** Takes a first reading of a current about where a loop of 4 to 20 mA begins for its dark. Changes `levels`. */
export function takeLiveZero(levels: Levels, unit: string, first: number): void {
  if (unit === 'mA' && !levels.darkKnown && Math.abs(first - liveZero.mA) <= liveZero.within) levels.dark = first;
}

/** One reading of the signal and how probable it is that it shows a settled dark, or a flame that burns steadily. */
export interface SettledReading {
  value: number;
  before: number;
  sinceS: number;
  /** Value less twice the one before plus the one before that, where they are about equally far apart; undefined otherwise. */
  secondDifference: number | undefined;
  dark: number;
  /** The dark has been settled for some seconds, once at least. */
  wasSettled: boolean;
  steady: number;
  /** A flame burns, whether its shutter is open or closed. */
  lit: number;
}

/**
 * Follows a standard deviation by the mean square of what is seen, over some thirty readings; a reading counts for no more than three
 * deviations, so that no wild one moves it far. A median would call a meter noiseless whose last digit seldom changes.
 * Source: Huber 1964, Ann. Math. Stat. 35, 73 (bounded influence).
 */
const followScale = (scale: number, deviation: number, share = 0.03): number =>
  Math.sqrt(scale ** 2 + share * (Math.min(deviation, 3 * scale) ** 2 - scale ** 2));

/** The levels after one more reading of the flame signal. Changes `levels`. */
export function followSignal(levels: Levels, reading: SettledReading): void {
  const { value, before, sinceS } = reading;
  const change = Math.abs(value - before) / Math.SQRT2;
  // Before anything was settled, what may be dark shows its noise already: that must not look like a faint flame.
  const mayBeDark = !levels.heightKnown && Math.abs(value - levels.dark) < 0.3 * levels.height;
  if (mayBeDark && !reading.wasSettled && reading.secondDifference !== undefined) {
    const scale = followScale(levels.darkNoise, Math.abs(reading.secondDifference) / Math.sqrt(6), 0.3);
    levels.darkNoise = Math.min(0.1 * levels.height, Math.max(levels.darkNoise, scale));
  }
  if (reading.dark > 0.95 && Math.abs(value - levels.dark) < 0.15 * levels.height) {
    // Ten seconds of dark are enough to know it; a first reading already tells more than an assumption.
    const share = levels.darkKnown ? 1 - exp(-sinceS / 10) : 0.3;
    levels.dark += share * (value - levels.dark);
    levels.darkUncertainty = Math.max(0.003 * levels.height, levels.darkUncertainty * (1 - 0.2 * share));
    levels.darkNoise = Math.max(0.002 * levels.height, followScale(levels.darkNoise, change));
    levels.darkKnown = true;
  }
  if (reading.steady > 0.9) {
    // Free of what a turned regulator does to the signal, which else would pass for noise down a shoulder.
    if (reading.secondDifference !== undefined) {
      const deviation = Math.abs(reading.secondDifference) / Math.sqrt(6);
      levels.noise = Math.min(
        0.04 * levels.height,
        Math.max(0.003 * levels.height, followScale(levels.noise, deviation)),
      );
    }
    const height = value - levels.dark;
    if (!levels.heightKnown && height > 0.2 * levels.height) {
      levels.height = height;
      levels.heightKnown = true;
    }
    levels.height = followHighest(levels.height, height, sinceS, upS);
  }
  if (reading.lit > 0.5) followPlateau(levels, value - levels.dark, sinceS);
}

/** The average and the plateau of a flame, `height` above dark now. Changes `levels`. */
function followPlateau(levels: Levels, height: number, sinceS: number): void {
  const { mean = height, averageS } = levels;
  levels.averageS = Math.min(longestAverageS, averageS + sinceS);
  levels.mean = mean + (1 - exp(-sinceS / levels.averageS)) * (height - mean);
  levels.plateau =
    levels.averageS < longestAverageS
      ? levels.mean
      : followHighest(levels.plateau ?? levels.mean, levels.mean, sinceS, longestAverageS);
}

/** The highest readings of a flame that flickers throughout are none of its plateau: it is averaged over so long, seconds. */
const longestAverageS = 10;
/** `height` follows a higher reading in so long, seconds: a flicker hardly raises it. */
const upS = 3;

/** The highest level of a signal: up in `risesS`, down in minutes, since a sweep spends minutes off the plateau. */
function followHighest(highest: number, height: number, sinceS: number, risesS: number): number {
  if (height > highest) return highest + (1 - exp(-sinceS / risesS)) * (height - highest);
  return highest - (1 - exp(-sinceS / 600)) * (highest - Math.max(height, 0.3 * highest));
}

/** Counts what was said of the flame at one moment. */
export function followFlame(levels: Levels, flame: FlameState): void {
  if (flame === 'unsteady') levels.unsteadyMoments += 1;
  if (flame === 'burning' || flame === 'unsteady') levels.litMoments += 1;
}

/** A flame that is said to be unsteady at more than this share of the moments is so throughout: its dips hide the others. */
const unsteadyShare = 0.2;

/**
 * Half way from dark to the plateau, in the signal's unit: there a flame counts as proved where no minimum signal was entered. The average
 * of a steady flame is too low after a short look at its plateau, the highest readings of an unsteady one are too high.
 */
export function halfPlateau(levels: Levels): number {
  const { dark, height, heightKnown, plateau = height, unsteadyMoments, litMoments } = levels;
  const isUnsteady = unsteadyMoments > unsteadyShare * litMoments;
  return dark + (isUnsteady || !heightKnown ? plateau : height) / 2;
}

/**
 * The manometer's noise after three successive readings, equally far apart, inH2O. Their second difference is free of what a steadily
 * turned regulator does.
 * Source: Gasser, Sroka and Jennen-Steinmetz 1986, Biometrika 73, 625 (residual variance from second differences).
 */
export function followPressure(levels: Levels, secondDifference: number): void {
  const deviation = Math.abs(secondDifference) / Math.sqrt(6);
  // What is far off is a valve or a hand that begins to turn, not noise.
  if (deviation > 4 * levels.pressureNoise) return;
  levels.pressureNoise = Math.min(0.05, Math.max(0.0015, followScale(levels.pressureNoise, deviation)));
}

/** The manometer's last digit after two successive readings, inH2O. */
export function followDigit(levels: Pick<Levels, 'pressureDigit'>, before: number, value: number): void {
  const step = Math.abs(value - before);
  // Below a ten thousandth a difference is one of rounding in the conversion of units.
  if (step > 1e-4) levels.pressureDigit = Math.min(levels.pressureDigit, step);
}

/**
 * Standard uncertainty of one pressure against those around it, inH2O. Rounding is as good as noise only where noise is larger than
 * the digit; a pressure at rest near the edge between two digits stays off for seconds, by half a digit at most.
 */
export const pressureUncertainty = ({ pressureNoise, pressureDigit }: Levels): number =>
  Math.hypot(pressureNoise, pressureDigit < 0.1 ? 0.4 * pressureDigit : 0);

/** Seconds in which the pressures of shut gas and of a burning pilot follow; one reading of a slow meter moves them by half at most. */
const followsS = 1;

/** A pressure that follows one more reading, inH2O, `sinceS` seconds after the last; undefined: it is the first. */
export const followStanding = (standing: number | undefined, value: number, sinceS: number): number =>
  standing === undefined ? value : standing + Math.min(0.5, 1 - exp(-sinceS / followsS)) * (value - standing);

/** The pressures of shut gas and of a burning pilot after one more reading, inH2O, `sinceS` seconds after the last, while they are `shown`. */
export function followPressures(
  levels: Levels,
  { value, sinceS }: { value: number; sinceS: number },
  shown: { shut: boolean; burning: boolean },
): void {
  if (shown.shut) levels.shutPressure = followStanding(levels.shutPressure, value, sinceS);
  if (shown.burning) levels.burningPressure = followStanding(levels.burningPressure, value, sinceS);
}
