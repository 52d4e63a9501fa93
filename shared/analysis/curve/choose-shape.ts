import { extent } from '../../numerics/descriptive.ts';
import { robustDeviation } from '../../numerics/robust.ts';
import { cutAtTop, looksClipped, topOf } from '../sweep/meter-faults/clipping.ts';
import { type DarkStretch, lossPressures } from '../sweep/flame/flame-loss.ts';
import type { PressureGrid } from '../sweep/series/pressure-grid.ts';
import { aiccOf, smallestAicc } from './aicc.ts';
import { curveAt } from './model/curve-model.ts';
import type { FitData } from './fit-data.ts';
import { type CurveFit, fitShape } from './fit-shape.ts';
import { bends, type Shape } from './model/shape.ts';

/** A fit that is only compared with others: what is left to gain changes no AICc by a hundredth, and no end by a tenth of its deviation. */
export const comparable = { tolerance: 1e-3, correlated: false };

/**
 * The curve must move by more than this many deviations of the noise, or the signal does not respond to the pressure at all.
 */
const minResponse = 3;

/**
 * By how much AICc must fall for each refinement of the shape. A difference of 4 to 7 leaves the worse model considerably less
 * support, one of 10 essentially none (Burnham and Anderson 2002, Model Selection and Multimodel Inference, 2.6). Most for a
 * clip, since a plateau that is only quiet looks like one, and for a loss of flame, since it becomes the cause of an end.
 */
const handicaps = { skew: 6, tilted: 6, bowed: 6, sags: 8, clip: 15, losses: 10 };

/** More dark stretches than this are a flame that flickers out, and no curve of steady states. */
const maxLosses = 4;

/** A fitted shape with the flame losses that it has. */
export interface Choice {
  fit: CurveFit;
  losses: DarkStretch[];
}

/** The shape that was chosen, and every fit that it was compared with. */
export interface ShapeChoice extends Choice {
  tried: CurveFit[];
}

/**
 * Chooses the shape of the curve: tries the shapes that the readings may have and takes the one with the smallest AICc.
 * Refinements must earn clearly more than their parameters; a curve that moves by no more than noise and the meter's last
 * digit becomes a level.
 * Source: Hurvich and Tsai 1989, Biometrika 76, 297 (AICc).
 *
 * @param darkStretches  candidates for a loss of flame
 */
export function chooseShape(data: FitData, darkStretches: DarkStretch[]): ShapeChoice {
  const tried: CurveFit[] = [];
  const fitted: FitOne = (shape, losses, from) => {
    const fit = fitShape(data, shape, losses, from, comparable);
    tried.push(fit);
    return fit;
  };
  const plain = bestShoulders(fitted, []);
  const smooth = { fit: refine(data, fitted, plain, []), losses: [] };
  const chosen = withLosses(data, fitted, plain, smooth, darkStretches);
  const { fit } = chosen;
  const [lowest, highest] = extent(fit.predicted);
  const noise = Math.max(robustDeviation(fit.residual), data.initial.digit / 2);
  if (highest - lowest > minResponse * noise) return { ...chosen, tried };
  return { fit: fitted(plainShape(false, false, 0), [], undefined), losses: [], tried: [] };
}

/** Fits one shape; the fit is only compared with others. */
type FitOne = (shape: Shape, losses: DarkStretch[], from: CurveFit | undefined) => CurveFit;

/** A level plateau with the given shoulders and losses. */
const plainShape = (lowShoulder: boolean, highShoulder: boolean, flameLosses: number): Shape => ({
  lowShoulder,
  highShoulder,
  skew: { low: false, high: false },
  bend: 'level',
  clipped: false,
  flameLosses,
});

/** The best of none, either and both shoulders; `known` where one of them is fitted already. */
const bestShoulders = (fitted: FitOne, losses: DarkStretch[], known?: CurveFit): CurveFit =>
  smallestAicc(
    [false, true].flatMap((low) =>
      [false, true].map((high) =>
        known?.shape.lowShoulder === low && known.shape.highShoulder === high
          ? known
          : fitted(plainShape(low, high, losses.length), losses, undefined),
      ),
    ),
  );

/** Clips, skews and bends a fit where that earns its parameters. */
function refine(data: FitData, fitted: FitOne, start: CurveFit, losses: DarkStretch[]): CurveFit {
  const { signal } = data;
  let best = start;
  const refit = (shape: Shape) => fitted(shape, losses, best);
  if (looksClipped(signal)) {
    const kinds = (['before-lag', 'behind-lag'] as const).map((clipped) => refit({ ...best.shape, clipped }));
    const clipped = kinds.reduce((a, b) => (b.deviance < a.deviance ? b : a));
    // Noise on one side only shows a clip by itself; its mean lies below the level, so the residuals must not decide.
    // Where many readings stand at the very top otherwise the fit decides; a plateau that is only quiet has to earn it.
    const handicap = topOf(signal).share > 0.2 ? 0 : handicaps.clip;
    if (heightCutOff(clipped) > data.initial.digit && clipped.deviance < Infinity)
      best = cutAtTop(signal) ? clipped : smallestAicc([best, clipped], [0, handicap]);
  }
  if (best.shape.clipped) {
    // What the clip hides decides nothing, but how well the ends are known: the shoulders may be rounded otherwise.
    for (const skew of skewsOf(best.shape)) refit({ ...best.shape, skew });
    return best;
  }
  const skews = skewsOf(best.shape);
  const plain = best;
  best = smallestAicc(
    [plain, ...skews.map((skew) => refit({ ...plain.shape, skew }))],
    [0, ...skews.map(({ low, high }) => handicaps.skew * (Number(low) + Number(high)))],
  );
  const level = best;
  return smallestAicc(
    [level, ...bends.slice(1).map((bend) => refit({ ...level.shape, bend }))],
    [0, handicaps.tilted, handicaps.bowed, handicaps.sags, handicaps.sags],
  );
}

/** The shoulders of a shape that may be skewed, one or both. */
const skewsOf = ({ lowShoulder, highShoulder }: Shape): Shape['skew'][] => [
  ...(lowShoulder ? [{ low: true, high: false }] : []),
  ...(highShoulder ? [{ low: false, high: true }] : []),
  ...(lowShoulder && highShoulder ? [{ low: true, high: true }] : []),
];

/** How much of the curve a fitted clip cuts off, in the signal's unit: less than the meter's last digit is its rounding, no clip. */
function heightCutOff({ fit: { parameters: x }, layout }: CurveFit): number {
  const dark = layout.dark < 0 ? 0 : x[layout.dark]!;
  return x[layout.amplitude]! + dark - x[layout.clip]!;
}

/**
 * The same with losses of flame, where they are known or clearly better. A dark stretch behind a shoulder needs no loss; what
 * counts are those that the burner's states call lost and those into which the signal fell from a good height.
 */
function withLosses(
  data: FitData,
  fitted: FitOne,
  plain: CurveFit,
  smooth: Choice,
  darkStretches: DarkStretch[],
): Choice {
  if (darkStretches.length === 0 || darkStretches.length > maxLosses) return smooth;
  let losses = darkStretches;
  const { grid } = data.input;
  const { lowShoulder, highShoulder } = smooth.fit.shape;
  // Most dark stretches lie behind a shoulder; one fit shows it and spares the rest.
  const alike = fitted(plainShape(lowShoulder, highShoulder, losses.length), losses, undefined);
  const areLosses = (fit: CurveFit) => isCliff(fit, grid).map((cliff, k) => cliff || losses[k]!.isKnown);
  if (!areLosses(alike).some(Boolean)) return smooth;
  let fit = bestShoulders(fitted, losses, alike);
  for (let kept = areLosses(fit); !kept.every(Boolean); kept = areLosses(fit)) {
    losses = losses.filter((_, k) => kept[k]);
    if (losses.length === 0) return smooth;
    fit = bestShoulders(fitted, losses);
  }
  const refined = refine(data, fitted, fit, losses);
  // A loss that the burner's states tell as well has nothing to earn; a curve through its fall would take the lag for a shoulder.
  const handicap = losses.every(({ isKnown }) => isKnown) ? 0 : handicaps.losses;
  // At a clip most readings are the clip itself: the better it fits, the less likely it makes the others. A plateau that is only quiet looks
  // like one, and without it a loss passes for what its shoulders are not. So fits with it and without it decide together.
  const isClipped = smooth.fit.shape.clipped || refined.shape.clipped;
  const grows = growth(smooth.fit, refined) + (isClipped ? growth(plain, fit) : 0);
  return grows + handicap < 0 ? { fit: refined, losses } : smooth;
}

/** By how much AICc grows from one fit to the other. */
function growth(from: CurveFit, to: CurveFit): number {
  const [before, after] = aiccOf([from, to]);
  return after! - before!;
}

/** For each loss of flame whether it was lost from a good height, as fitted: lower down a shoulder looks the same. */
function isCliff(fit: CurveFit, grid: PressureGrid): boolean[] {
  const x = fit.fit.parameters;
  const dark = x[fit.layout.dark]!;
  const level = new Float64Array(1);
  return lossPressures(grid, x, fit.layout.flameLoss).map((lost) => {
    curveAt(x, fit.layout, fit.scale, Float64Array.of(lost), level);
    return level[0]! - dark > 0.25 * Math.abs(x[fit.layout.amplitude]!);
  });
}
