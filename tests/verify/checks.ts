import { binomial } from './binomial.ts';
import type { Check } from './check.ts';
import { fittedCurves, modelChoice } from './curves.ts';
import { conformance } from './conformance.ts';
import { changePoint } from './change-point.ts';
import { cusum } from './cusum.ts';
import { delay } from './delay.ts';
import { distributions } from './distributions.ts';
import { doseResponse } from './dose-response.ts';
import { firth } from './firth.ts';
import { hiddenMarkov } from './hidden-markov.ts';
import { isotonic } from './isotonic.ts';
import { lines } from './lines.ts';
import { nistLinear } from './nist-linear.ts';
import { nistNonlinear } from './nist-nonlinear.ts';
import { robust } from './robust.ts';
import { sensitivity } from './sensitivity.ts';
import { syntheticSweeps } from './sweeps.ts';
import { units } from './units.ts';
import { trend } from './trend.ts';
import { uncertainty } from './uncertainty.ts';
import { univariate } from './univariate.ts';

/** Every check of the computation against values from outside, subject by subject. */
export const checks: Check[] = [
  ...nistNonlinear,
  ...nistLinear,
  ...univariate,
  ...lines,
  ...fittedCurves,
  ...modelChoice,
  ...doseResponse,
  ...sensitivity,
  ...firth,
  ...syntheticSweeps,
  ...delay,
  ...trend,
  ...changePoint,
  ...hiddenMarkov,
  ...cusum,
  ...robust,
  ...isotonic,
  ...distributions,
  ...binomial,
  ...uncertainty,
  ...conformance,
  ...units,
];
