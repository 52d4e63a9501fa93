import { mannKendall, theilSen } from '../../shared/analysis/trend.ts';
import { type Check, compareLists, reference, type Row } from './check.ts';

interface Inputs {
  x: number[];
  y: number[];
}

interface Test {
  S: number;
  var_S: number;
  Z: number;
  p_two_sided: number;
}

interface Slope {
  slope: number;
  ci95: number[];
}

function rows({ x, y }: Inputs, slope: Slope, test: Test, tolerance: { z: number; slope: number; ci?: number }): Row[] {
  const robust = theilSen(Float64Array.from(x), Float64Array.from(y), 0.95)!;
  const { score, variance, z, p } = mannKendall(Float64Array.from(y));
  return [
    ...compareLists(['slope'], [slope.slope], [robust.slope], { absolute: tolerance.slope }),
    ...compareLists(
      ['lower end of the slope', 'upper end of the slope'],
      slope.ci95,
      robust.ci,
      tolerance.ci === undefined ? 'exact' : { absolute: tolerance.ci },
    ),
    ...compareLists(['Kendall score'], [test.S], [score], 'exact'),
    ...compareLists(['its variance', 'its z', 'its p'], [test.var_S, test.Z, test.p_two_sided], [variance, z, p], {
      absolute: tolerance.z,
    }),
  ];
}

const shared = { subject: 'Trend and change', of: 'theilSen, mannKendall', origin: 'computed' } as const;

export const trend: Check[] = [
  {
    ...shared,
    name: 'Trend of the Nile at Aswan',
    source: 'Sen 1968; Mann 1945; Kendall 1975; SciPy, R',
    file: 'trend-nile',
    run: () => {
      type Expected = { mann_kendall: Test; theil_sen: Slope };
      const { inputs, expected, tolerance } = reference<Inputs, Expected>('trend-nile');
      const { Z_abs: z, slope_abs: slope } = tolerance;
      return rows(inputs, expected.theil_sen, expected.mann_kendall, { z: z!, slope: slope! });
    },
  },
  {
    ...shared,
    name: 'Trend of ten uneven years with an outlier',
    source: 'Sen 1968; Kendall 1975; SciPy',
    file: 'trend-small-outlier',
    run: () => {
      const { inputs, expected, tolerance } = reference<Inputs, Slope & { mann_kendall: Test }>('trend-small-outlier');
      const each = tolerance['abs']!;
      return rows(inputs, expected, expected.mann_kendall, { z: each, slope: each, ci: each });
    },
  },
];
