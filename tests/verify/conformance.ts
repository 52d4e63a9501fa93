import { conformanceProbability } from '../../shared/numerics/conformance.ts';
import { normalQuantile } from '../../shared/numerics/distributions.ts';
import { type Check, compareLists, halfUnit, reference, type Row } from './check.ts';

/** Simpson's rule over [from, to] in 4000 steps: the global risks are integrals over all items that are produced. */
function integral(f: (x: number) => number, from: number, to: number): number {
  const h = (to - from) / 4000;
  let sum = f(from) + f(to);
  for (let i = 1; i < 4000; i += 1) sum += (i % 2 === 1 ? 4 : 2) * f(from + i * h);
  return (sum * h) / 3;
}

function probabilities(): Row[] {
  type Case = { T_L: number | null; T_U: number | null; y: number; u: number; p_conform: number };
  type Multiplier = { p_conform_at_acceptance_limit: number; z: number; guard_band_in_U_with_k2: number };
  const { expected, tolerance } = reference<object, { cases: Case[]; guard_band_multipliers: Multiplier[] }>(
    'jcgm106-conformance-probability',
  );
  const limit = (value: number | null, u: number) => (value === null ? undefined : { value, u });
  const found = expected.cases.map(({ T_L, T_U, y, u }) => conformanceProbability(y, limit(T_L, u), limit(T_U, u)));
  const tolerated = { absolute: tolerance['abs']! };
  return [
    ...compareLists(
      expected.cases.map(({ T_L, T_U, y, u }) => `${y} with u = ${u} in [${T_L ?? '-∞'}, ${T_U ?? '∞'}]`),
      expected.cases.map(({ p_conform }) => p_conform),
      found,
      tolerated,
    ),
    // The Zener diode stands first; the standard prints 0.92.
    ...compareLists(['Zener diode, printed'], [0.92], [found[0]!], halfUnit(2)),
    ...expected.guard_band_multipliers.flatMap(({ p_conform_at_acceptance_limit: p, z, guard_band_in_U_with_k2: w }) =>
      compareLists(
        [`guard band for ${p}, in u`, `guard band for ${p}, in U`, `probability ${z} u inside`],
        [z, w, p],
        [normalQuantile(p), normalQuantile(p) / 2, conformanceProbability(z, { value: 0, u: 1 }, undefined)],
        tolerated,
      ),
    ),
  ];
}

function resistors(): Row[] {
  type Inputs = { y0: number; u0: number; u_m: number; T_L: number; T_U: number };
  type Case = { A_L: number; A_U: number; consumer_risk: number; producer_risk: number };
  type Expected = { prob_nonconforming_without_inspection: number; cases: Case[] };
  const { inputs, expected, tolerance } = reference<Inputs, Expected>('jcgm106-global-risk-resistors');
  const { y0, u0, u_m: u, T_L, T_U } = inputs;
  const tolerated = { absolute: tolerance['abs']! };
  const made = (x: number) => Math.exp(-0.5 * ((x - y0) / u0) ** 2) / (u0 * Math.sqrt(2 * Math.PI));
  const uninspected = 1 - conformanceProbability(y0, { value: T_L, u: u0 }, { value: T_U, u: u0 });
  return [
    ...compareLists(
      ['out of tolerance, uninspected'],
      [expected.prob_nonconforming_without_inspection],
      [uninspected],
      tolerated,
    ),
    ...expected.cases.flatMap(({ A_L, A_U, consumer_risk, producer_risk }) => {
      const accepted = (x: number) => conformanceProbability(x, { value: A_L, u }, { value: A_U, u });
      const wrongly = (x: number) => made(x) * accepted(x);
      const within = `accepted in [${A_L}, ${A_U}]`;
      return compareLists(
        [`${within}: consumer's risk`, `${within}: producer's risk`],
        [consumer_risk, producer_risk],
        [
          integral(wrongly, y0 - 9 * u0, T_L) + integral(wrongly, T_U, y0 + 9 * u0),
          integral((x) => made(x) * (1 - accepted(x)), T_L, T_U),
        ],
        tolerated,
      );
    }),
  ];
}

function ballBearings(): Row[] {
  const { inputs, expected, tolerance } = reference<{ u_m_um: number; T_U_um: number }, Record<string, number>>(
    'jcgm106-ball-bearings',
  );
  const { u_m_um: u, T_U_um: most } = inputs;
  // Gamma of shape 4 and rate 4, as the file's prior says.
  const made = (x: number) => (256 * x ** 3 * Math.exp(-4 * x)) / 6;
  const accepted = (x: number, limit: number) => conformanceProbability(x, undefined, { value: limit, u });
  const consumer = (limit: number) => integral((x) => made(x) * accepted(x, limit), most, most + 12);
  const producer = (limit: number) => integral((x) => made(x) * (1 - accepted(x, limit)), 0, most);
  const limit = expected['acceptance_limit_for_Rc_0.001']!;
  return compareLists(
    [
      "consumer's risk without guard band",
      "producer's risk without guard band",
      "consumer's risk with guard band",
      "producer's risk with guard band",
    ],
    [expected['consumer_risk_A=T']!, expected['producer_risk_A=T']!, 0.001, expected['producer_risk_at_that_limit']!],
    [consumer(most), producer(most), consumer(limit), producer(limit)],
    { absolute: tolerance['abs']! },
  );
}

const subject = 'Uncertainty and conformance';

export const conformance: Check[] = [
  {
    subject,
    name: 'Conformance probability and guard bands',
    of: 'conformanceProbability, normalQuantile',
    source: 'JCGM 106:2012, 7 and 8.3; SciPy',
    origin: 'from memory',
    file: 'jcgm106-conformance-probability',
    run: probabilities,
  },
  {
    subject,
    name: 'Global risks of 1500 ohm resistors',
    of: 'conformanceProbability, integrated',
    source: 'JCGM 106:2012, 9.5; SciPy',
    origin: 'computed',
    file: 'jcgm106-global-risk-resistors',
    run: resistors,
  },
  {
    subject,
    name: 'Global risks and guard band of ball bearings',
    of: 'conformanceProbability, integrated',
    source: 'JCGM 106:2012, 9.5.4; SciPy',
    origin: 'computed',
    file: 'jcgm106-ball-bearings',
    run: ballBearings,
  },
];
