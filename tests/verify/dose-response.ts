import { normalCdf } from '../../shared/numerics/distributions.ts';
import { type Check, compareLists, reference, type Row, type Tolerance } from './check.ts';
import { fitLinear, standardErrors } from './fit.ts';

/** Link function: probability at a linear predictor, and its slope there. */
interface Link {
  probability: (eta: number) => number;
  slope: (eta: number) => number;
}

const { exp, sqrt, log, PI } = Math;

const logit: Link = { probability: (e) => 1 / (1 + exp(-e)), slope: (e) => exp(-e) / (1 + exp(-e)) ** 2 };
const probit: Link = { probability: normalCdf, slope: (e) => exp((-e * e) / 2) / sqrt(2 * PI) };
const cloglog: Link = { probability: (e) => -Math.expm1(-exp(e)), slope: (e) => exp(e - exp(e)) };

/** A fitted generalized linear model. */
interface BinomialFit {
  parameters: Float64Array;
  /** Inverse of the information, row by row. */
  covariance: Float64Array;
  deviance: number;
}

/**
 * Maximum likelihood of a binomial response by iteratively reweighted least squares (Nelder and Wedderburn 1972, JRSS A 135,
 * 370), each round solved by the product's solver.
 */
function fitBinomial(link: Link, design: number[][], yes: number[], of: number[]): BinomialFit {
  let eta = yes.map((k, i) => log((k + 0.5) / (of[i]! - k + 0.5)));
  for (let round = 0; ; round += 1) {
    const rows = eta.map((e, i) => {
      const [p, slope] = [link.probability(e), link.slope(e)];
      return { z: e + (yes[i]! / of[i]! - p) / slope, weight: sqrt((of[i]! * slope * slope) / (p * (1 - p))) };
    });
    const fit = fitLinear(
      design,
      rows.map(({ z }) => z),
      rows.map(({ weight }) => weight),
    );
    eta = design.map((row) => row.reduce((sum, x, j) => sum + x * fit.parameters[j]!, 0));
    if (round === 50)
      return { parameters: fit.parameters, covariance: fit.unscaled, deviance: devianceOf(link, eta, yes, of) };
  }
}

function devianceOf(link: Link, eta: number[], yes: number[], of: number[]): number {
  const part = (k: number, mean: number) => (k === 0 ? 0 : k * log(k / mean));
  return eta.reduce((sum, e, i) => {
    const mean = of[i]! * link.probability(e);
    return sum + 2 * (part(yes[i]!, mean) + part(of[i]! - yes[i]!, of[i]! - mean));
  }, 0);
}

/**
 * Dose at which a probability is reached, with its error by propagation, as MASS::dose.p; `[a, b]` are the places of intercept
 * and slope.
 */
function doseFor({ parameters, covariance }: BinomialFit, p: number, [a, b]: [number, number]) {
  const n = parameters.length;
  const slope = parameters[b]!;
  const dose = (log(p / (1 - p)) - parameters[a]!) / slope;
  const variance = covariance[a * n + a]! + 2 * dose * covariance[a * n + b]! + dose * dose * covariance[b * n + b]!;
  return { dose, error: sqrt(variance) / Math.abs(slope) };
}

interface Coefficients {
  coef: number[];
  se: number[];
  deviance: number;
}

interface Doses {
  p: number[];
  dose: number[];
  se: number[];
}

const relative = (tolerance: number | undefined): Tolerance => ({ relative: tolerance! });

const coefficientRows = (
  of: string,
  byR: Coefficients,
  found: BinomialFit,
  tolerance: Record<string, number>,
): Row[] => [
  ...compareLists(`${of}coefficient`, byR.coef, found.parameters, relative(tolerance['coef_rel'])),
  // A file without a tolerance for errors holds them to that of the coefficients.
  ...compareLists(
    `${of}error of coefficient`,
    byR.se,
    standardErrors(found.covariance),
    relative(tolerance['se_rel'] ?? tolerance['coef_rel']),
  ),
  ...compareLists([`${of}deviance`], [byR.deviance], [found.deviance], relative(tolerance['coef_rel'])),
];

function doseRows(byR: Doses, found: BinomialFit, at: [number, number], dose: Tolerance, error: Tolerance): Row[] {
  const doses = byR.p.map((p) => doseFor(found, p, at));
  const named = (what: string) => byR.p.map((p) => `${what} for ${p}`);
  return [
    ...compareLists(
      named('dose'),
      byR.dose,
      doses.map((one) => one.dose),
      dose,
    ),
    ...compareLists(
      named('error of dose'),
      byR.se,
      doses.map((one) => one.error),
      error,
    ),
  ];
}

function beetles(): Row[] {
  type Inputs = { x_log10_dose: number[]; n: number[]; killed: number[] };
  type Expected = Record<'logit' | 'probit' | 'cloglog', Coefficients> & { logit_dose_p: Doses };
  const { inputs, expected, tolerance } = reference<Inputs, Expected>('doseresponse-beetle');
  const design = inputs.x_log10_dose.map((x) => [1, x]);
  const fit = (link: Link) => fitBinomial(link, design, inputs.killed, inputs.n);
  const byLogit = fit(logit);
  return [
    ...coefficientRows('logit: ', expected.logit, byLogit, tolerance),
    ...coefficientRows('probit: ', expected.probit, fit(probit), tolerance),
    ...coefficientRows('complementary log-log: ', expected.cloglog, fit(cloglog), tolerance),
    ...doseRows(
      expected.logit_dose_p,
      byLogit,
      [0, 1],
      { absolute: tolerance['dose_abs']! },
      relative(tolerance['se_rel']),
    ),
  ];
}

function budworms(): Row[] {
  type Inputs = { ldose_log2: number[]; numdead: number[]; n_each: number; sex: string[] };
  const { inputs, expected, tolerance } = reference<Inputs, Coefficients & { dose_female: Doses }>(
    'doseresponse-budworm',
  );
  const design = inputs.ldose_log2.map((x, i) => [Number(inputs.sex[i] === 'F'), Number(inputs.sex[i] === 'M'), x]);
  const fit = fitBinomial(
    logit,
    design,
    inputs.numdead,
    design.map(() => inputs.n_each),
  );
  return [
    ...coefficientRows('', expected, fit, tolerance),
    ...doseRows(
      expected.dose_female,
      fit,
      [0, 2],
      { absolute: tolerance['dose_abs']! },
      relative(tolerance['dose_se_rel']),
    ),
  ];
}

function challenger(): Row[] {
  type Inputs = { temperature_F: number[]; any_distress: number[]; rings_with_distress: number[]; rings: number };
  type Expected = Record<'binary' | 'binomial6', Coefficients>;
  const { inputs, expected, tolerance } = reference<Inputs, Expected>('logit-challenger');
  const design = inputs.temperature_F.map((t) => [1, t]);
  const each = (count: number) => design.map(() => count);
  return [
    ...coefficientRows('any: ', expected.binary, fitBinomial(logit, design, inputs.any_distress, each(1)), tolerance),
    ...coefficientRows(
      'of six: ',
      expected.binomial6,
      fitBinomial(logit, design, inputs.rings_with_distress, each(inputs.rings)),
      tolerance,
    ),
  ];
}

function vasoconstriction(): Row[] {
  const { inputs, expected, tolerance } = reference<{ volume: number[]; rate: number[]; y: number[] }, Coefficients>(
    'logit-vasoconstriction',
  );
  const design = inputs.volume.map((volume, i) => [1, log(volume), log(inputs.rate[i]!)]);
  const fit = fitBinomial(
    logit,
    design,
    inputs.y,
    design.map(() => 1),
  );
  return coefficientRows('', expected, fit, tolerance);
}

const shared = { subject: 'Yes or no against a dose', of: 'leastSquares, reweighted', origin: 'from memory' } as const;

export const doseResponse: Check[] = [
  {
    ...shared,
    name: 'Beetle mortality, three links',
    of: 'leastSquares, reweighted; normalCdf',
    source: 'Bliss 1935; Dobson; R glm, MASS::dose.p',
    file: 'doseresponse-beetle',
    run: beetles,
  },
  {
    ...shared,
    name: 'Budworm doses',
    source: 'Venables and Ripley 2002, 7.2; R glm, MASS::dose.p',
    file: 'doseresponse-budworm',
    run: budworms,
  },
  {
    ...shared,
    name: 'O-ring distress against temperature',
    source: 'Dalal, Fowlkes and Hoadley 1989; R glm',
    file: 'logit-challenger',
    run: challenger,
  },
  {
    ...shared,
    name: 'Vasoconstriction',
    source: 'Finney 1947; Pregibon 1981; R glm',
    file: 'logit-vasoconstriction',
    run: vasoconstriction,
  },
];
