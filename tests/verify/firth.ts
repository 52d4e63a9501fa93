import { chiSquareQuantile } from '../../shared/numerics/distributions.ts';
import { type BinomialData, fitFirth, profileInterval } from '../../shared/light-off/firth-logistic.ts';
import { type Check, compareLists, reference, type Row } from './check.ts';

interface Expected {
  names: string[];
  coef: number[];
  se_from_inverse_information: number[];
  penalised_loglik: number;
  profile_penalised_ci95: [number, number][] | null;
  x_at_p?: { p: number; x: number }[];
}

/** A column of ones, then the columns that are named. */
const designOf = (inputs: Record<string, number[]>, names: readonly string[]): number[][] =>
  inputs[names[0]!]!.map((_, i) => [1, ...names.map((name) => inputs[name]![i]!)]);

/** A zero of the source but for its rounding: digits of a relative error would say nothing. */
const orZero = (value: number): number => (Math.abs(value) < 1e-12 ? 0 : value);

/** Coefficients, errors, likelihood, intervals and, for one variable, where a probability is reached. */
function rowsOf(
  file: string,
  columns: readonly string[],
  dataOf: (inputs: Record<string, number[]>) => Omit<BinomialData, 'design'>,
): Row[] {
  const { inputs, expected, tolerance } = reference<Record<string, number[]>, Expected>(file);
  const data = { design: designOf(inputs, columns), ...dataOf(inputs) };
  const fit = fitFirth(data);
  const found = fit?.converged ? fit : undefined;
  const { names } = expected;
  const ci = { absolute: tolerance['ci_abs']! };
  const intervals = expected.profile_penalised_ci95;
  return [
    ...compareLists(
      names.map((name) => `coefficient of ${name}`),
      expected.coef.map(orZero),
      found?.coefficients ?? [],
      {
        absolute: tolerance['coef_abs']!,
      },
    ),
    ...compareLists(
      names.map((name) => `error of ${name}`),
      expected.se_from_inverse_information,
      found?.errors ?? [],
      {
        relative: tolerance['se_rel']!,
      },
    ),
    ...compareLists(['penalized log-likelihood'], [expected.penalised_loglik], [found?.logLikelihood ?? NaN], {
      absolute: tolerance['coef_abs']!,
    }),
    ...(intervals && found
      ? intervals.flatMap((interval, j) =>
          compareLists(
            ['from', 'to'].map((end) => `interval of ${names[j]}, ${end}`),
            interval,
            profileInterval(data, found, j, chiSquareQuantile(0.95, 1)),
            ci,
          ),
        )
      : []),
    ...(expected.x_at_p ?? []).map(({ p, x }) => ({
      quantity: `x where the probability is ${p}`,
      expected: x,
      found: found ? (Math.log(p / (1 - p)) - found.coefficients[0]!) / found.coefficients[1]! : NaN,
      tolerance: { absolute: tolerance['coef_abs']! },
    })),
  ];
}

const yesNo = ({ y }: Record<string, number[]>) => ({ successes: y!, trials: y!.map(() => 1) });

/** Closed forms: half a success and half a failure are added to every cell. */
function closedForms(): Row[] {
  interface Inputs {
    intercept_only: { k: number; n: number }[];
    table_2x2: Record<'group0' | 'group1', { success: number; fail: number }>;
  }
  interface Values {
    intercept_only_logit: number[];
    table_2x2_log_odds_ratio: number;
    table_2x2_intercept: number;
  }
  const { inputs, expected, tolerance } = reference<Inputs, Values>('firth-analytic');
  const { group0, group1 } = inputs.table_2x2;
  const table = fitFirth({
    design: [
      [1, 0],
      [1, 1],
    ],
    successes: [group0.success, group1.success],
    trials: [group0.success + group0.fail, group1.success + group1.fail],
  });
  return [
    ...compareLists(
      inputs.intercept_only.map(({ k, n }) => `logit of ${k} of ${n}`),
      expected.intercept_only_logit,
      inputs.intercept_only.map(
        ({ k, n }) => fitFirth({ design: [[1]], successes: [k], trials: [n] })?.coefficients[0] ?? NaN,
      ),
      { absolute: tolerance['abs']! },
    ),
    ...compareLists(
      ['intercept of a table', 'log odds ratio of a table'],
      [expected.table_2x2_intercept, expected.table_2x2_log_odds_ratio],
      table?.coefficients ?? [],
      { absolute: tolerance['abs']! },
    ),
  ];
}

const shared = { subject: 'Yes or no against a dose, penalized', of: 'fitFirth, profileInterval' } as const;
const byBrglm = 'Firth 1993; R brglm2, direct maximization';
const trialsOf = (file: string, name: string): Check => ({
  ...shared,
  name,
  source: byBrglm,
  origin: 'computed',
  file,
  run: () => rowsOf(file, ['x'], yesNo),
});

export const firth: Check[] = [
  trialsOf('firth-separated', 'Completely separated trials'),
  trialsOf('firth-quasi-separated', 'Trials that overlap at one level only'),
  trialsOf('firth-overlap16', 'Overlapping trials'),
  trialsOf('firth-all-success', 'Trials that all succeeded'),
  {
    ...shared,
    name: 'Closed forms',
    source: 'Firth 1993; Haldane 1956, Anscombe 1956',
    origin: 'computed',
    file: 'firth-analytic',
    run: closedForms,
  },
  {
    ...shared,
    name: 'Endometrial cancer',
    source: 'Heinze and Schemper 2002; R brglm2',
    origin: 'from memory',
    file: 'firth-endometrial',
    run: () => rowsOf('firth-endometrial', ['NV', 'PI', 'EH'], yesNo),
  },
  {
    ...shared,
    name: 'Urinary tract infections',
    source: 'Heinze and Schemper 2002; R logistf, brglm2',
    origin: 'from memory',
    file: 'firth-sex2',
    run: () =>
      rowsOf('firth-sex2', ['age', 'oc', 'vic', 'vicl', 'vis', 'dia'], ({ n, k }) => ({ successes: k!, trials: n! })),
  },
];
