import { hampel, huberWeight, madFactor, robustDeviation } from '../../shared/numerics/robust.ts';
import { median } from '../../shared/numerics/descriptive.ts';
import { type Check, compareLists, reference, type Row } from './check.ts';
import { fitLinear } from './fit.ts';

const subject = 'Robust statistics';

/** R's `mad`: R multiplies the median absolute deviation by 1.4826, the product by 1.482602... */
const madOfR = (values: Float64Array, rFactor: number, center?: number) =>
  (robustDeviation(values, center) / madFactor) * rFactor;

function hampelRows(): Row[] {
  type Outliers = { outlier_index_0based_truncated_window: number[]; replacement_values_truncated: number[] };
  const { inputs, expected, tolerance } = reference<{ x: number[]; t0: number }, Record<string, Outliers>>('hampel');
  return [3, 5, 20].flatMap((half) => {
    const found = hampel(Float64Array.from(inputs.x), half, inputs.t0);
    const byR = expected[`k${half}`]!;
    return [
      ...compareLists(
        `${half} each side: place of outlier`,
        byR.outlier_index_0based_truncated_window,
        found.map(({ index }) => index),
        'exact',
      ),
      ...compareLists(
        `${half} each side: median at outlier`,
        byR.replacement_values_truncated,
        found.map((one) => one.median),
        { absolute: tolerance['value_abs']! },
      ),
    ];
  });
}

/**
 * Huber's estimate of location with the scale held, in the steps of MASS::huber, up to a step under `stop` scales.
 * R's figure for the copper analyses is that of its default stop, 1e-6; the one for the ten values is of its end.
 */
function huberLocation(values: Float64Array, scale: number, threshold: number, stop: number): number {
  let center = median(values);
  for (;;) {
    const pulls = values.map((value) => (value - center) * huberWeight(Math.abs(value - center) / scale, threshold));
    const step = pulls.reduce((sum, pull) => sum + pull, 0) / values.length;
    if (Math.abs(step) < stop * scale) return center;
    center += step;
  }
}

function locationRows(): Row[] {
  type Expected = {
    small: { median: number; mad_scaled_1_4826: number; huber_k1_5: { mu: number } };
    chem: { median: number; mad: number; huber_mu: number };
  };
  const { inputs, expected, tolerance } = reference<{ small: number[]; chem: number[] }, Expected>(
    'robust-location-scale',
  );
  const small = Float64Array.from(inputs.small);
  const chem = Float64Array.from(inputs.chem);
  const mad = { small: madOfR(small, 1.4826), chem: madOfR(chem, 1.4826) };
  return compareLists(
    ['ten: median', 'ten: MAD', 'copper: median', 'copper: MAD'],
    [expected.small.median, expected.small.mad_scaled_1_4826, expected.chem.median, expected.chem.mad],
    [median(small), mad.small, median(chem), mad.chem],
    { absolute: tolerance['abs']! },
  ).concat(
    compareLists(
      ['ten: Huber location', 'copper: Huber location'],
      [expected.small.huber_k1_5.mu, expected.chem.huber_mu],
      [huberLocation(small, mad.small, 1.5, 1e-12), huberLocation(chem, mad.chem, 1.5, 1e-6)],
      { absolute: tolerance['abs']! },
    ),
  );
}

function stackLossRows(): Row[] {
  type Inputs = Record<'Air.Flow' | 'Water.Temp' | 'Acid.Conc.' | 'stack.loss', number[]>;
  type Expected = { names: string[]; huber_1_345: { coef: number[]; s: number; w: number[] } };
  const { inputs, expected, tolerance } = reference<Inputs, Expected>('robust-regression-stackloss');
  const y = inputs['stack.loss'];
  const design = y.map((_, i) => [1, inputs['Air.Flow'][i]!, inputs['Water.Temp'][i]!, inputs['Acid.Conc.'][i]!]);
  let weights = y.map(() => 1);
  let scale = 0;
  let fit = fitLinear(design, y);
  for (let round = 0; round < 200; round += 1) {
    const residuals = fit.residuals.map((value, i) => value / Math.sqrt(weights[i]!));
    scale = madOfR(residuals, 1 / 0.6745, 0);
    weights = [...residuals].map((value) => huberWeight(Math.abs(value) / scale, 1.345));
    fit = fitLinear(design, y, weights.map(Math.sqrt));
  }
  const { huber_1_345: byR, names } = expected;
  return [
    ...compareLists(names, byR.coef, fit.parameters, { relative: tolerance['coef_rel']! }),
    ...compareLists(['scale'], [byR.s], [scale], { relative: tolerance['scale_rel']! }),
  ];
}

export const robust: Check[] = [
  {
    subject,
    name: 'Hampel filter',
    of: 'hampel',
    source: 'R pracma::hampel (Pearson 1999)',
    origin: 'computed',
    file: 'hampel',
    run: hampelRows,
  },
  {
    subject,
    name: 'Median, MAD, Huber location',
    of: 'median, robustDeviation, huberWeight',
    source: 'Analytical Methods Committee 1989; R mad, MASS::huber',
    origin: 'from memory',
    file: 'robust-location-scale',
    run: locationRows,
  },
  {
    subject,
    name: 'Huber regression of the stack loss data',
    of: 'leastSquares, huberWeight, robustDeviation',
    source: 'Brownlee; R MASS::rlm',
    origin: 'from memory',
    file: 'robust-regression-stackloss',
    run: stackLossRows,
  },
];
