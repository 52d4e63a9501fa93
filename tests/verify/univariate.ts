import { laggedProduct } from '../../shared/numerics/autocorrelation.ts';
import { mean } from '../../shared/numerics/descriptive.ts';
import { type Check, reference } from './check.ts';

const sets = ['lew', 'lottery', 'mavro', 'michelso', 'numacc1', 'numacc2', 'numacc3', 'numacc4', 'pidigits'];

export const univariate: Check[] = sets.map((set) => ({
  subject: 'Mean, deviation, autocorrelation',
  name: reference(`nist-univ-${set}`).name.split(': ')[1]!,
  of: 'mean, laggedProduct',
  source: 'NIST StRD, univariate summary statistics',
  origin: 'published',
  file: `nist-univ-${set}`,
  run: () => {
    type Expected = { mean: number; sd: number; lag1_autocorrelation: number };
    const { inputs, expected, tolerance } = reference<{ y: number[] }, Expected>(`nist-univ-${set}`);
    const values = Float64Array.from(inputs.y);
    const middle = mean(values);
    const off = values.map((value) => value - middle);
    const squares = laggedProduct(off, 0);
    const { mean_rel: relative, sd_rel: sd, autocorr_abs: absolute } = tolerance;
    return [
      { quantity: 'mean', expected: expected.mean, found: middle, tolerance: { relative: relative! } },
      {
        quantity: 'standard deviation',
        expected: expected.sd,
        found: Math.sqrt(squares / (values.length - 1)),
        tolerance: { relative: sd! },
      },
      {
        quantity: 'autocorrelation at lag 1',
        expected: expected.lag1_autocorrelation,
        found: laggedProduct(off, 1) / squares,
        tolerance: { absolute: absolute! },
      },
    ];
  },
}));
