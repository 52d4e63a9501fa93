import { exp } from '../numerics/elementary.ts';
import type { SignalPattern } from './states.ts';

/** Levels and noise of the flame signal, in its unit. */
export interface SignalLevels {
  /** Signal without a flame, and how well that is known (standard uncertainty). */
  dark: number;
  darkUncertainty: number;
  /** Height of the plateau above dark. */
  height: number;
  /** Standard deviation of the noise with a steady flame and without one. */
  noise: number;
  darkNoise: number;
  /** How probable each of `lagSeconds` is for this detector; adds up to 1. */
  lagShares: Float64Array;
}

/** One reading of the flame signal with what came before it. Seconds; the signal in its unit. */
export interface SignalStep {
  value: number;
  /** The reading before; equal to `value` for the first. */
  before: number;
  sinceS: number;
  /** How fast the pilot pressure moved in the last seconds, inH2O per second: the signal follows it on a shoulder. */
  pressureRate: number;
}

/** Time constants of detector, amplifier and meter together, seconds (common practice: 0.3 to 3 s). */
export const lagSeconds = [0.15, 0.3, 0.5, 0.8, 1.2, 1.8, 2.6, 3.6] as const;
/** Levels a rising signal may be on its way to, in plateau heights. */
const aims = [0.35, 0.7, 1, 1.3];
/** A signal below this share of the plateau is none that a control would hold a valve open for. */
const leastShare = 0.12;
/** Half the usual width of a shoulder, inH2O (common practice: 0.1 to 0.5): how steeply the signal follows the pressure. */
const shoulderWidth = 0.3;

const normal = (x: number, deviation: number): number => {
  const z = x / deviation;
  // Beyond nine deviations the floor below outweighs it.
  return z * z > 81 ? 0 : (0.3989422804014327 / deviation) * exp(-0.5 * z * z);
};
const logistic = (x: number): number => 1 / (1 + exp(-Math.max(-30, Math.min(30, x))));

/** Densities of a reading for each pattern, and for a fall with each of `lagSeconds`. */
export interface SignalDensities extends Record<SignalPattern, number> {
  ofLag: Float64Array;
}

/**
 * Probability density of a reading of the flame signal, given the one before, for each pattern, in multiples of the plateau height.
 *
 * Without flame the signal falls exponentially towards dark, however slow detector and meter are; rising, it builds up towards some
 * level; a steady flame stays where it was but for noise and for what the pressure's movement does on a shoulder; a flickering one
 * wanders by some per cent of the plateau.
 */
export function signalLikelihood(step: SignalStep, levels: SignalLevels): SignalDensities {
  const { height } = levels;
  const value = (step.value - levels.dark) / height;
  const before = (step.before - levels.dark) / height;
  const since = step.sinceS;
  const change = value - before;
  const noise = levels.noise / height;
  const darkNoise = levels.darkNoise / height;
  const darkDeviation = Math.SQRT2 * darkNoise;
  // A flame's own noise goes on in the lagged signal while it falls.
  const fallingNoise = before > 0.3 ? Math.SQRT2 * Math.max(noise, darkNoise) : darkDeviation;
  const root = Math.min(3, Math.sqrt(since / 0.1));

  let fallen = 0;
  let rising = 0.1 * normal(change, darkDeviation + 0.002);
  const ofLag = new Float64Array(lagSeconds.length);
  lagSeconds.forEach((seconds, k) => {
    const share = levels.lagShares[k]!;
    const gone = 1 - exp(-since / seconds);
    const deviation = Math.hypot(fallingNoise, gone * (levels.darkUncertainty / height), 0.1 * gone * before);
    ofLag[k] = normal(change + gone * before, deviation);
    fallen += share * ofLag[k];
    for (const aim of aims) {
      const climb = (aim - before) * gone;
      if (climb > 0) rising += ((0.9 * share) / aims.length) * normal(change - climb, Math.SQRT2 * noise + 0.3 * climb);
    }
  });
  // Sparks and a restless dark disturb a signal near dark by a few per cent.
  const nearDark = logistic((leastShare - value) / 0.02);
  fallen = 0.97 * fallen + 0.03 * nearDark * normal(change, 0.03);

  const burns = logistic((value - leastShare) / 0.02) + 1e-4;
  const follows = Math.min(0.3, (step.pressureRate * since) / shoulderWidth);
  const steady =
    0.75 * normal(change, Math.SQRT2 * noise) +
    0.23 * normal(change, Math.hypot(Math.SQRT2 * noise, follows)) +
    0.02 * normal(change, 0.05 * root);
  const flickering = 0.5 * normal(change, 0.03 * root) + 0.5 * normal(change, 0.08 * root);

  const floor = 1e-4;
  return {
    fallen: fallen + floor,
    rising: rising + floor,
    steady: burns * steady + floor,
    flickering: burns * flickering + floor,
    ofLag,
  };
}
