import { curveAt } from '../../shared/analysis/curve/model/curve-model.ts';
import { layoutOf } from '../../shared/analysis/curve/model/shape.ts';
import { leastSquares } from '../../shared/numerics/linear/least-squares.ts';
import { type Check, compareLists, reference, type Row } from './check.ts';
import { gaussianAicc, standardErrors } from './fit.ts';

interface Inputs {
  pressure_inwc: number[];
  signal_vdc: number[];
  start: number[];
}

interface Expected {
  names: string[];
  ols: { params: number[]; std_errors: number[]; rss: number };
  aicc_ols: { constant: number; single_low: number; double: number };
}

const level = { middle: 0, half: 1 };

/** The product's steady curve without lag, by the parameters of the files: A, B, x1, s1 and, with both shoulders, x2, s2. */
function fitSteadyCurve(pressure: number[], signal: number[], start: number[]) {
  const shape = { skew: { low: false, high: false }, bend: 'level', clipped: false, flameLosses: 0 } as const;
  const layout = layoutOf({ ...shape, lowShoulder: start.length > 2, highShoulder: start.length > 4 });
  const { amplitude, dark, low, lowWidth, high, highWidth } = layout;
  const places = [amplitude, dark, low, lowWidth, high, highWidth].slice(0, start.length);
  const n = start.length;
  const p = Float64Array.from(pressure);
  const curve = new Float64Array(p.length);
  const slopes = new Float64Array(p.length * layout.size);
  const all = new Float64Array(layout.size);
  // The files fit a width, the product its logarithm.
  const isWidth = (j: number) => j === 3 || j === 5;
  const evaluate = (b: Float64Array) => {
    b.forEach((value, j) => (all[places[j]!] = isWidth(j) ? Math.log(value) : value));
    curveAt(all, layout, level, p, curve, slopes);
  };
  return leastSquares(
    (b, into) => {
      evaluate(b);
      signal.forEach((value, i) => (into[i] = value - curve[i]!));
    },
    Float64Array.from(start),
    signal.length,
    {
      tolerance: 1e-12,
      jacobian: (b, into) => {
        evaluate(b);
        signal.forEach((_, i) =>
          b.forEach((value, j) => {
            const slope = slopes[i * layout.size + places[j]!]!;
            into[i * n + j] = -(isWidth(j) ? slope / value : slope);
          }),
        );
      },
    },
  );
}

function run(file: string): Row[] {
  const { inputs, expected, tolerance } = reference<Inputs, Expected>(file);
  const { pressure_inwc: p, signal_vdc: s, start } = inputs;
  const { ols, names, aicc_ols: criteria } = expected;
  const fit = fitSteadyCurve(p, s, start);
  const { params_rel: parameter, std_errors_rel: error, aicc_abs: criterion } = tolerance;
  const ofShape = (parameters: number) => {
    const { rss: squares } = fitSteadyCurve(
      p,
      s,
      parameters === 1 ? [start[0]! + start[1]!] : start.slice(0, parameters),
    );
    return gaussianAicc(squares, s.length, parameters);
  };
  const both = start.length > 4;
  return [
    ...compareLists(names, ols.params, fit.parameters, { relative: parameter! }),
    ...compareLists(
      names.map((name) => `error of ${name}`),
      ols.std_errors,
      standardErrors(fit.covariance),
      { relative: error! },
    ),
    ...compareLists(['residual sum of squares'], [ols.rss], [fit.rss], { relative: parameter! }),
    ...compareLists(
      ['AICc of a level', 'AICc of a low shoulder', ...(both ? ['AICc of both'] : [])],
      [criteria.constant, criteria.single_low, ...(both ? [criteria.double] : [])],
      [1, 4, ...(both ? [6] : [])].map(ofShape),
      { absolute: criterion! },
    ),
    { quantity: 'soft-L1 fit and its bootstrap', notCompared: 'not done here: the robust loss is Huber weights' },
  ];
}

const sweeps = {
  'clean-double': 'Two shoulders without noise',
  'double-sigmoid-a': 'Two shoulders, outliers',
  'double-sigmoid-b-autocorrelated': 'Two shoulders, correlated noise',
  'single-sigmoid': 'A low shoulder',
};

export const syntheticSweeps: Check[] = Object.entries(sweeps).map(([set, name]) => ({
  subject: 'Synthetic sweeps',
  name,
  of: 'leastSquares, curveAt with its slopes, aicc',
  source: 'SciPy curve_fit on sweeps by NumPy',
  origin: 'computed',
  file: `pipeline-${set}`,
  run: () => run(`pipeline-${set}`),
}));
