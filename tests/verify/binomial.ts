import { lowerBound, successRun, upperBound } from '../../shared/numerics/binomial.ts';
import { type Check, compareLists, reference, type Row } from './check.ts';

const subject = 'Light-off trials';

interface Computed {
  k: number;
  n: number;
  conf: number;
  clopper_pearson: number[];
  clopper_pearson_one_sided_lower: number;
  clopper_pearson_one_sided_upper: number;
}

interface Printed {
  inputs: { rows: { k: number; n: number; conf: number; method: string; src: string }[] };
  expected: { rows: { printed: number[]; computed: number[]; agrees_to_printed_digits: boolean }[] };
}

/** Two-sided bounds: half of the error probability on each side. */
const twoSided = (k: number, n: number, confidence: number) => [
  lowerBound(k, n, (1 + confidence) / 2),
  upperBound(k, n, (1 + confidence) / 2),
];

function published(): Row[] {
  const { inputs, expected, tolerance } = reference<Printed['inputs'], Printed['expected']>('binom-published');
  return inputs.rows.flatMap(({ k, n, conf, method, src }, i): Row[] => {
    if (method !== 'clopper_pearson') return [];
    const found = twoSided(k, n, conf);
    const { printed, computed, agrees_to_printed_digits: agrees } = expected.rows[i]!;
    const named = (kind: string) => ['lower', 'upper'].map((side) => `${k} of ${n}, ${side}${kind}: ${src}`);
    // Decimals as printed: a trailing zero is lost in JSON, so both bounds are taken to have as many as the longer one.
    const decimals = Math.max(...printed.map((value) => String(value).split('.')[1]?.length ?? 0));
    return [
      ...compareLists(named(''), computed, found, { absolute: tolerance['computed_abs']! }),
      ...(agrees
        ? compareLists(named(', printed'), printed, found, { printed: 0.5 * 10 ** -decimals })
        : [{ quantity: `${k} of ${n}, printed: ${src}`, notCompared: 'as remembered it is 1e-6 off the exact value' }]),
    ];
  });
}

export const binomial: Check[] = [
  {
    subject,
    name: 'Clopper-Pearson bounds, printed',
    of: 'lowerBound, upperBound',
    source: 'NIST e-Handbook 7.2.4.1; Conover 1971; Newcombe 1998',
    origin: 'from memory',
    file: 'binom-published',
    run: published,
  },
  {
    subject,
    name: 'Clopper-Pearson bounds, 90 cases',
    of: 'lowerBound, upperBound',
    source: 'Clopper and Pearson 1934 by mpmath, R binom.test',
    origin: 'computed',
    file: 'binom-intervals',
    run: () => {
      const { expected, tolerance } = reference<object, { rows: Computed[] }>('binom-intervals');
      return expected.rows.flatMap((row) => {
        const { k, n, conf } = row;
        const of = `${k} of ${n} at ${conf}`;
        return compareLists(
          [`${of}, lower`, `${of}, upper`, `${of}, lower alone`, `${of}, upper alone`],
          [...row.clopper_pearson, row.clopper_pearson_one_sided_lower, row.clopper_pearson_one_sided_upper],
          [...twoSided(k, n, conf), lowerBound(k, n, conf), upperBound(k, n, conf)],
          { absolute: tolerance['abs']! },
        );
      });
    },
  },
  {
    subject,
    name: 'Trials without failure that prove a reliability',
    of: 'successRun, lowerBound',
    source: 'Success-run theorem, exact fractions; handbook values',
    origin: 'from memory',
    file: 'success-run',
    run: () => {
      interface Expected {
        table: { reliability: number; confidence: number; n_zero_failures: number }[];
        lower_bounds: { n: number; conf: number; reliability_lower_bound_zero_failures: number }[];
        classic_checks: { R: number; C: number; failures: number; n: number }[];
      }
      const { expected, tolerance } = reference<object, Expected>('success-run');
      const classic = expected.classic_checks.filter(({ failures }) => failures === 0);
      return [
        ...[
          ...expected.table.map(({ reliability: R, confidence: C, n_zero_failures: n }) => ({ R, C, n })),
          ...classic,
        ].map(({ R, C, n }) => ({
          quantity: `trials for ${R} at ${C}`,
          expected: n,
          found: successRun(R, C),
          tolerance: 'exact' as const,
        })),
        ...expected.lower_bounds.map(({ n, conf, reliability_lower_bound_zero_failures: bound }) => ({
          quantity: `all of ${n} at ${conf}`,
          expected: bound,
          found: lowerBound(n, n, conf),
          tolerance: { absolute: tolerance['lower_bounds_abs']! },
        })),
      ];
    },
  },
];
