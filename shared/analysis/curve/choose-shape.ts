import { extent } from '../../numerics/descriptive.ts';
import { robustDeviation } from '../../numerics/robust.ts';
import { curveAt } from './curve-model.ts';
import { type CurveFit, fitShape } from './fit-shape.ts';
import type { PredictionInput } from './predict-signal.ts';
import { bends, type Shape } from './shape.ts';
import { cutAtTop, looksClipped, topOf } from '../sweep/clipping.ts';
import { type DarkStretch, lossPressures } from '../sweep/flame-loss.ts';
import type { InitialEstimates } from '../sweep/initial-estimates.ts';
import type { Series } from '../sweep/series.ts';

/** A fit that is only compared with others, and the last. */
const comparable = { tolerance: 1e-4, correlated: false };

/** A flame and none differ by more deviations of the noise than this, or the signal does not answer the pressure at all. */
const leastResponse = 3;

/** The chosen fit, or one without shoulders where its curve moves less than noise and the meter's last digit do. */
export function withResponse(
  chosen: Choice,
  { scene, signal }: { scene: PredictionInput; signal: Series },
  look: InitialEstimates,
): Choice {
  const { fit } = chosen;
  const [least, most] = extent(fit.predicted);
  const noise = Math.max(robustDeviation(fit.residual), look.digit / 2);
  if (most - least > leastResponse * noise) return chosen;
  const flat = { ...fit.shape, lowShoulder: false, highShoulder: false, bend: 'level', clipped: false } as const;
  const shape = { ...flat, flameLosses: 0, skew: { low: false, high: false } };
  return { fit: fitShape(scene, signal, look, shape, undefined, [], comparable), losses: [] };
}

interface Choice {
  fit: CurveFit;
  losses: DarkStretch[];
}

/**
 * Tries the shapes that the data may have and gives the one with the least AICc. Bends, a clipped plateau and lost
 * flames are taken in only when they earn clearly more than their parameters.
 * Source: Hurvich and Tsai 1989, Biometrika 76, 297 (AICc).
 */
export function chooseShape(
  scene: PredictionInput,
  signal: Series,
  look: InitialEstimates,
  dark: DarkStretch[],
): Choice {
  let losses: DarkStretch[] = [];
  const tryShape = (shape: Shape, from?: CurveFit) => fitShape(scene, signal, look, shape, from, losses, comparable);
  const shapesWith = (flameLosses: number): Shape[] =>
    [false, true].flatMap((lowShoulder) =>
      [false, true].map(
        (highShoulder) =>
          ({
            lowShoulder,
            highShoulder,
            bend: 'level',
            clipped: false,
            flameLosses,
            skew: { low: false, high: false },
          }) as const,
      ),
    );
  const clipped = looksClipped(signal);
  /** Shoulders that are rounded unevenly, and plateaus that are not level, must each earn clearly more than their parameters. */
  const skewed = (plain: CurveFit): CurveFit => {
    const { lowShoulder, highShoulder } = plain.shape;
    const skews = [
      ...(lowShoulder ? [{ low: true, high: false }] : []),
      ...(highShoulder ? [{ low: false, high: true }] : []),
      ...(lowShoulder && highShoulder ? [{ low: true, high: true }] : []),
    ];
    const fits = skews.map((skew) => tryShape({ ...plain.shape, skew }, plain));
    return leastOf([plain, ...fits], [0, ...skews.map(({ low, high }) => (low && high ? 12 : 6))]);
  };
  const bent = (level: CurveFit): CurveFit => {
    const fits = bends.slice(1).map((bend) => tryShape({ ...level.shape, bend }, level));
    return leastOf([level, ...fits], [0, 6, 6, 8, 8]);
  };
  const refined = (start: CurveFit): CurveFit => {
    let best = start;
    if (clipped) {
      const withClip = tryShape({ ...best.shape, clipped: true }, best);
      // One-sided noise under a top speaks for itself; its mean lies below the level, so the residuals must not decide.
      // Where readings stand at the very top otherwise the fit decides; a plateau that is only quiet has to earn it.
      const handicap = topOf(signal).share > 0.2 ? [0, 0] : [0, 15];
      best = cutAtTop(signal) ? withClip : leastOf([best, withClip], handicap);
    }
    return best.shape.clipped ? best : bent(skewed(best));
  };
  const smooth = { fit: refined(leastOf(shapesWith(0).map((shape) => tryShape(shape)))), losses };
  if (dark.length === 0 || dark.length > 4) return smooth;
  // A dark stretch behind a shoulder needs no loss; what remains are those into which the signal fell from a good height.
  losses = dark;
  const { lowShoulder, highShoulder } = smooth.fit.shape;
  const alike = shapesWith(dark.length).find((s) => s.lowShoulder === lowShoulder && s.highShoulder === highShoulder)!;
  // Most dark stretches lie behind a shoulder; one fit shows it and spares the rest.
  if (!isCliff(tryShape(alike), scene).some(Boolean)) return smooth;
  const plainLoss = () => leastOf(shapesWith(losses.length).map((shape) => tryShape(shape)));
  let lossFit = plainLoss();
  for (let cliffs = isCliff(lossFit, scene); !cliffs.every(Boolean); cliffs = isCliff(lossFit, scene)) {
    losses = losses.filter((_, k) => cliffs[k]);
    if (losses.length === 0) return smooth;
    lossFit = plainLoss();
  }
  const withLoss = refined(lossFit);
  return leastOf([smooth.fit, withLoss], [0, 10]) === withLoss ? { fit: withLoss, losses } : smooth;
}

/** For each loss of flame whether it was lost from a good height, as fitted: lower down a shoulder looks the same. */
function isCliff(fit: CurveFit, scene: PredictionInput): boolean[] {
  const x = fit.fit.parameters;
  const dark = x[fit.layout.dark]!;
  const level = new Float64Array(1);
  return lossPressures(scene.grid, x, fit.layout.flameLoss).map(({ lost }) => {
    curveAt(x, fit.layout, fit.scale, Float64Array.of(lost), level);
    return level[0]! - dark > 0.25 * Math.abs(x[fit.layout.amplitude]!);
  });
}

/**
 * The fit with the least AICc after its handicap. All are judged by one count of independent readings, the largest that
 * any of them leaves, and at least an eighth of all: a bad fit leaves correlated residuals, which must not excuse it.
 */
function leastOf(fits: CurveFit[], handicap: number[] = []): CurveFit {
  const effective = Math.max(fits[0]!.residual.length / 8, ...fits.map((fit) => fit.effective));
  let best = fits[0]!;
  let least = Infinity;
  fits.forEach((fit, i) => {
    const value = aicc(fit.deviance, fit.layout.size + 2, effective) + (handicap[i] ?? 0);
    if (value < least) [best, least] = [fit, value];
  });
  return best;
}

/** Corrected Akaike criterion from the deviance per reading, k parameters (the noise's two sizes among them). */
export function aicc(deviance: number, k: number, effective: number): number {
  const n = Math.max(effective, k + 3);
  return deviance * n + 2 * k + (2 * k * (k + 1)) / (n - k - 1);
}
