import { log } from '../../numerics/elementary.ts';
import { resolutionOf } from '../sweep/meter-noise.ts';
import { topOf } from '../sweep/clipping.ts';
import type { Layout } from './shape.ts';
import type { InitialEstimates } from '../sweep/initial-estimates.ts';
import type { DarkStretch } from '../sweep/flame-loss.ts';
import type { PredictionInput } from './predict-signal.ts';
import type { Series } from '../sweep/series.ts';

const endOf = (scene: PredictionInput) => scene.grid.startS + (scene.grid.pressure.length - 1) * scene.grid.stepS;

/** Logarithm of the softness that flicker of one to three per cent of a level gives a clip (common practice). */
const usualSoftness = (level: number): number => log(0.007 * level);

export interface Prior {
  at: number;
  /** Another parameter, when it is the sum of the two that is known. */
  and?: number;
  mean: number;
  deviation: number;
  /** Doubt in the replicates as a multiple of `deviation`; 1 when absent. */
  scale?: number;
}

/**
 * Weak knowledge that keeps the search sane where the data say nothing. A lag of 1.2 s give or take 1 s, doubted by twice that, is common
 * practice (detector, amplifier and meter together 0.3 to 3 s); the rest is wide against anything that a sweep shows.
 */
export function priorsFor(
  layout: Layout,
  look: InitialEstimates,
  scene: PredictionInput,
  signal: Series,
  dark: DarkStretch[],
): Prior[] {
  const { scale } = scene;
  const swing = Math.max(Math.abs(look.plateau), 1e-9);
  const priors: Prior[] = [
    { at: layout.lag, mean: 1.2, deviation: 1, scale: 2 },
    { at: layout.lagRoot, mean: 1, deviation: 0.7, scale: 2 },
  ];
  if (layout.dark >= 0) priors.push({ at: layout.dark, mean: look.dark, deviation: 0.3 * swing });
  for (const at of [layout.lowWidth, layout.highWidth])
    if (at >= 0) priors.push({ at, mean: log(0.06 * scale.half), deviation: 1.2 });
  if (layout.low >= 0)
    priors.push({ at: layout.low, mean: look.halfLow ?? scale.middle - scale.half, deviation: scale.half });
  if (layout.high >= 0)
    priors.push({ at: layout.high, mean: look.halfHigh ?? scale.middle + scale.half, deviation: scale.half });
  if (layout.clip >= 0) {
    priors.push({ at: layout.amplitude, mean: 1.15 * swing, deviation: 0.3 * swing });
    // Held tightly, for noise cut off at the top looks soft as well, and doubted by more in the replicates.
    priors.push({ at: layout.softness, mean: usualSoftness(swing), deviation: 0.1, scale: 3 });
    // Clipped noise lies on one side of the level only, and its mean below it: the level is the top itself.
    const { top, share } = topOf(signal);
    const deviation = 1e-6 * Math.abs(top);
    // The last digit of the meter is the doubt of the level: a rectangle, GUM F.2.2.1.
    if (share > 0.2)
      priors.push({
        at: layout.clip,
        mean: top,
        deviation,
        scale: resolutionOf(signal.value) / Math.sqrt(12) / deviation,
      });
  }
  if (layout.flameLoss >= 0) {
    const end = endOf(scene);
    dark.forEach((stretch, k) => {
      // Seen is the loss behind the delay; that moment is known, the delay itself is not by it.
      const seen = { lost: stretch.lostS + stretch.delayS, burns: stretch.relitS + stretch.delayS };
      priors.push({ at: layout.flameLoss + 2 * k, and: layout.lag, mean: seen.lost, deviation: 2 });
      priors.push({
        at: layout.flameLoss + 2 * k + 1,
        and: layout.lag,
        mean: Math.min(seen.burns, end + 10),
        deviation: 2,
      });
    });
  }
  if (layout.tilt >= 0) priors.push({ at: layout.tilt, mean: 0, deviation: 0.5 });
  if (layout.bow >= 0) priors.push({ at: layout.bow, mean: 0, deviation: 0.5 });
  if (layout.sag >= 0) {
    priors.push({ at: layout.sag, mean: 0, deviation: 0.5 });
    priors.push({ at: layout.knee, mean: 0, deviation: 0.4 });
  }
  for (const at of [layout.lowSkew, layout.highSkew]) if (at >= 0) priors.push({ at, mean: 0, deviation: 0.7 });
  return priors;
}

/** Several starts: the lag as seen and shorter, the shoulders where the signal passed half way or just beyond the ends. */
export function startsFor(
  scene: PredictionInput,
  look: InitialEstimates,
  layout: Layout,
  dark: DarkStretch[],
): Float64Array[] {
  const { middle, half } = scene.scale;
  const end = endOf(scene);
  const starts: Float64Array[] = [];
  for (const lag of new Set([Math.min(Math.max(look.lagS, 0.3), 4), 1]))
    for (const width of [0.04, 0.12]) {
      const x = new Float64Array(layout.size);
      const put = (at: number, value: number) => {
        if (at >= 0) x[at] = value;
      };
      put(layout.amplitude, look.plateau - (layout.dark >= 0 ? look.dark : 0));
      put(layout.dark, look.dark);
      put(layout.lag, lag);
      put(layout.lagRoot, Math.sqrt(0.6 * lag));
      put(layout.low, look.halfLow ?? middle - 1.05 * half);
      put(layout.high, look.halfHigh ?? middle + 1.05 * half);
      put(layout.lowWidth, log(width * half));
      put(layout.highWidth, log(width * half));
      dark.forEach((stretch, k) => {
        if (layout.flameLoss < 0) return;
        x[layout.flameLoss + 2 * k] = stretch.lostS;
        x[layout.flameLoss + 2 * k + 1] = Math.min(stretch.relitS, end + 10);
      });
      starts.push(x);
    }
  return starts;
}

/** The parameters of an earlier fit, with new parts at rest. */
export function startFromFit(earlier: { layout: Layout; parameters: Float64Array }, layout: Layout): Float64Array {
  const x = new Float64Array(layout.size);
  const names = [
    'amplitude',
    'dark',
    'low',
    'lowWidth',
    'high',
    'highWidth',
    'lowSkew',
    'highSkew',
    'tilt',
    'bow',
    'sag',
    'knee',
    'clip',
    'softness',
    'lag',
    'lagRoot',
  ] as const;
  for (const name of names)
    if (layout[name] >= 0 && earlier.layout[name] >= 0) x[layout[name]] = earlier.parameters[earlier.layout[name]]!;
  // At a sag of nothing the knee would have no influence.
  if (layout.sag >= 0 && earlier.layout.sag < 0) x[layout.sag] = 0.1;
  if (layout.clip >= 0 && earlier.layout.clip < 0) {
    const level = earlier.parameters[earlier.layout.amplitude]!;
    x[layout.amplitude] = 1.1 * level;
    x[layout.clip] = level + (layout.dark >= 0 ? x[layout.dark]! : 0);
    x[layout.softness] = usualSoftness(Math.abs(level));
  }
  if (layout.flameLoss >= 0) x.set(earlier.parameters.subarray(earlier.layout.flameLoss), layout.flameLoss);
  return x;
}
