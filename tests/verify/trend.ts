import { theilSen } from '../../shared/numerics/theil-sen.ts';
import { type Check, compareLists, reference, type Row } from './check.ts';

interface Inputs {
  x: number[];
  y: number[];
}

interface Slope {
  slope: number;
  ci95: number[];
}

function rows({ x, y }: Inputs, slope: Slope, tolerance: { slope: number; ci?: number }): Row[] {
  const robust = theilSen(Float64Array.from(x), Float64Array.from(y), 0.95)!;
  return [
    ...compareLists(['slope'], [slope.slope], [robust.slope], { absolute: tolerance.slope }),
    ...compareLists(
      ['lower end of the slope', 'upper end of the slope'],
      slope.ci95,
      robust.ci,
      tolerance.ci === undefined ? 'exact' : { absolute: tolerance.ci },
    ),
    { quantity: 'Mann-Kendall test', notCompared: 'not done here' },
  ];
}

const shared = { subject: 'Trend and change', of: 'theilSen', origin: 'computed' } as const;

export const trend: Check[] = [
  {
    ...shared,
    name: 'Trend of the Nile at Aswan',
    source: 'Sen 1968; SciPy, R',
    file: 'trend-nile',
    run: () => {
      const { inputs, expected, tolerance } = reference<Inputs, { theil_sen: Slope }>('trend-nile');
      return rows(inputs, expected.theil_sen, { slope: tolerance['slope_abs']! });
    },
  },
  {
    ...shared,
    name: 'Trend of ten uneven years with an outlier',
    source: 'Sen 1968; SciPy',
    file: 'trend-small-outlier',
    run: () => {
      const { inputs, expected, tolerance } = reference<Inputs, Slope>('trend-small-outlier');
      const each = tolerance['abs']!;
      return rows(inputs, expected, { slope: each, ci: each });
    },
  },
];
