import type { Explanation } from '../model/results/analysis-result.ts';
import type { Fit } from '../numerics/linear/least-squares.ts';
import { robustDeviation } from '../numerics/robust.ts';
import { describeShape } from './curve/model/shape.ts';
import type { Study } from './study.ts';

/** Why the fit of the curve ended, for people. */
const stopSentences: Record<Fit['stop'], string> = {
  gradient: 'no change of the curve brings it nearer to the readings',
  step: 'the fit converged',
  decrease: 'the last steps brought the curve no nearer to the readings',
  flat: 'the fit converged where a part of the curve no longer matters; there may be a better curve',
  iterations: 'the fit used all its steps; there may be a slightly better curve',
  singular: 'the readings do not determine all parts of the curve; there may be a better curve',
  'not-finite': 'the fit ran into numbers too large to go on; there may be a better curve',
};

/** How the result was found, for people: shape, fit, and what each step left out or noticed. Same units as the study. */
export function explain(study: Study): Explanation {
  const { curve, leftOut, selfCheck, hysteresis, drift, manometerLagS, stepResponse } = study;
  return {
    model: study.modelFits
      ? describeShape(curve.shape, curve.range)
      : 'no model: a free curve that rises and then falls',
    stop: stopSentences[curve.fit.stop],
    converged: curve.fit.converged,
    fitted: study.residual.length,
    independent: curve.effectiveSize,
    residualSd: robustDeviation(study.residual, 0),
    misfit: study.misfit,
    leftOut,
    ...(selfCheck && { selfCheck }),
    ...(hysteresis !== undefined && { hysteresis }),
    ...(drift && { drift }),
    ...(manometerLagS > 0 && { manometerLagS }),
    ...(stepResponse && { stepResponse }),
  };
}
