import {
  betaQuantile,
  chiSquareQuantile,
  normalQuantile,
  studentQuantile,
} from '../../shared/numerics/distributions.ts';
import { type Check, reference } from './check.ts';

const quantiles = 'quantiles-normal-t-chi2';

interface Quantiles {
  normal: { p: number; z: number }[];
  t: { p: number; dof: number; t: number }[];
  chi2: { p: number; dof: number; x: number }[];
}

const shared = { subject: 'Distributions', origin: 'computed', file: quantiles } as const;
const source = 'mpmath at 40 digits';

export const distributions: Check[] = [
  {
    ...shared,
    name: 'Normal quantiles',
    of: 'normalQuantile',
    source,
    run: () => {
      const { expected, tolerance } = reference<object, Quantiles>(quantiles);
      return expected.normal.map(({ p, z }) => ({
        quantity: `p = ${p}`,
        expected: z,
        found: normalQuantile(p),
        tolerance: { relative: tolerance['rel']! },
      }));
    },
  },
  {
    ...shared,
    name: 'Student quantiles',
    of: 'studentQuantile',
    source,
    run: () => {
      const { expected, tolerance } = reference<object, Quantiles>(quantiles);
      return expected.t.map(({ p, dof, t }) => ({
        quantity: `p = ${p}, ${dof} degrees`,
        expected: t,
        found: studentQuantile(p, dof),
        tolerance: { relative: tolerance['rel']! },
      }));
    },
  },
  {
    ...shared,
    name: 'Chi-square quantiles',
    of: 'chiSquareQuantile',
    source,
    run: () => {
      const { expected, tolerance } = reference<object, Quantiles>(quantiles);
      return expected.chi2.map(({ p, dof, x }) => ({
        quantity: `p = ${p}, ${dof} degrees`,
        expected: x,
        found: chiSquareQuantile(p, dof),
        tolerance: { relative: tolerance['rel']! },
      }));
    },
  },
  {
    ...shared,
    name: 'Beta quantiles, stress points',
    of: 'betaQuantile',
    source,
    file: 'beta-quantile-stress',
    run: () => {
      type Rows = { rows: { p: number; a: number; b: number; x: number }[] };
      const { expected, tolerance } = reference<object, Rows>('beta-quantile-stress');
      return expected.rows.map(({ p, a, b, x }) => ({
        quantity: `p = ${p}, a = ${a}, b = ${b}`,
        expected: x,
        found: betaQuantile(p, a, b),
        tolerance: { relative: tolerance['rel']! },
      }));
    },
  },
];
