import { chooseShape, withResponse } from './choose-shape.ts';
import { type CurveFit, fitShape } from './fit-shape.ts';
import type { PredictionInput } from './predict-signal.ts';
import type { DarkStretch } from '../sweep/flame-loss.ts';
import type { InitialEstimates } from '../sweep/initial-estimates.ts';
import type { Series } from '../sweep/series.ts';

const final = { tolerance: 1e-7, correlated: true };

/**
 * The steady-state curve with its lag: the shape is chosen on a coarse picture of the sweep, where forty fits cost little,
 * and then fitted to all readings.
 */
export function fitCurve(
  coarse: { scene: PredictionInput; signal: Series },
  fine: { scene: PredictionInput; signal: Series },
  look: InitialEstimates,
  dark: DarkStretch[],
): CurveFit {
  const chosen = withResponse(chooseShape(coarse.scene, coarse.signal, look, dark), coarse, look);
  return fitShape(fine.scene, fine.signal, look, chosen.fit.shape, chosen.fit, chosen.losses, final);
}
