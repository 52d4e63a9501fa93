import { cholesky, forward, type Matrix, solveCholesky } from '../numerics/linear/cholesky.ts';
import { exp, log, log1p } from '../numerics/elementary.ts';

/** Successes out of trials at each row of the design; the design holds its own column of ones. */
export interface BinomialData {
  design: readonly (readonly number[])[];
  successes: readonly number[];
  trials: readonly number[];
}

export interface FirthFit {
  coefficients: Float64Array;
  /** From the inverse of the Fisher information at the estimate. */
  errors: Float64Array;
  /** Penalized log-likelihood at its maximum. */
  logLikelihood: number;
  /** The modified score vanished; else the rounds were used up. */
  converged: boolean;
}

/** Rounds at most; a fit takes some twenty. */
const mostRounds = 500;
/** Size of the modified score, and of the last step, at which a fit has converged. */
const smallestScore = 1e-10;
/** Longest step of a coefficient in one round, so that a start far away does not run off. */
const longestStep = 5;

/**
 * Logistic regression by Firth's penalized likelihood, log L + (1/2) log |I|: finite where successes and failures are separated, when
 * ordinary maximum likelihood has no answer. Fisher scoring on the modified score, with steps halved until the likelihood rises.
 * Source: Firth 1993, Biometrika 80, 27; Heinze and Schemper 2002, Statistics in Medicine 21, 2409.
 *
 * @param fixed  coefficients that are held, by their place; the penalty stays that of the full model
 * @param start  coefficients to begin from; zeros if not given
 * Undefined where the design does not tell its coefficients apart.
 */
export function fitFirth(
  data: BinomialData,
  fixed: ReadonlyMap<number, number> = new Map(),
  start?: Float64Array,
): FirthFit | undefined {
  const p = data.design[0]?.length ?? 0;
  const free = Array.from({ length: p }, (_, j) => j).filter((j) => !fixed.has(j));
  let beta = Float64Array.from({ length: p }, (_, j) => fixed.get(j) ?? start?.[j] ?? 0);
  let here = evaluate(data, beta);
  let converged = false;
  for (let round = 0; here && round < mostRounds && !converged; round += 1) {
    const { curvature, score, logLikelihood } = here;
    const factor = cholesky(free.map((i) => Float64Array.from(free, (j) => curvature[i]![j]!)));
    if (!factor) return undefined;
    const step = solveCholesky(
      factor,
      free.map((j) => score[j]!),
    );
    const size = Math.max(0, ...step.map(Math.abs));
    converged = Math.max(0, ...free.map((j) => Math.abs(score[j]!))) < smallestScore || size < smallestScore;
    if (converged) break;
    let share = Math.min(1, longestStep / size);
    for (;;) {
      const next = Float64Array.from(beta);
      free.forEach((j, i) => (next[j]! += share * step[i]!));
      const there = evaluate(data, next);
      // Rounding may lose a last digit near the maximum.
      if (there && there.logLikelihood >= logLikelihood - 1e-12 * (1 + Math.abs(logLikelihood))) {
        [beta, here] = [next, there];
        break;
      }
      share /= 2;
      if (share < 1e-10) return undefined;
    }
  }
  const factor = here && cholesky(here.information);
  if (!here || !factor) return undefined;
  const unit = (j: number) => Array.from({ length: p }, (_, i) => Number(i === j));
  const errors = Float64Array.from({ length: p }, (_, j) => Math.sqrt(solveCholesky(factor, unit(j))[j]!));
  return { coefficients: beta, errors, logLikelihood: here.logLikelihood, converged };
}

/** Information, modified score and penalized log-likelihood; undefined where the information is singular. */
function evaluate(
  { design, successes, trials }: BinomialData,
  beta: Float64Array,
): { information: Matrix; curvature: Matrix; score: Float64Array; logLikelihood: number } | undefined {
  const p = beta.length;
  const information: Matrix = Array.from({ length: p }, () => new Float64Array(p));
  const probabilities = design.map((row, r) => {
    const eta = row.reduce((sum, x, j) => sum + x * beta[j]!, 0);
    const probability = eta >= 0 ? 1 / (1 + exp(-eta)) : exp(eta) / (1 + exp(eta));
    const weight = trials[r]! * probability * (1 - probability);
    for (let i = 0; i < p; i += 1) for (let j = 0; j < p; j += 1) information[i]![j]! += weight * row[i]! * row[j]!;
    return { eta, probability, weight };
  });
  const factor = cholesky(information);
  if (!factor) return undefined;
  // The penalty adds a row's leverage to its trials; without it a step at a single trial is twice too long and never settles.
  const curvature = information.map((row) => Float64Array.from(row));
  const score = new Float64Array(p);
  let logLikelihood = factor.reduce((sum, row, i) => sum + log(row[i]!), 0);
  design.forEach((row, r) => {
    const { eta, probability, weight } = probabilities[r]!;
    const [k, n] = [successes[r]!, trials[r]!];
    // log(1 + e^eta) without overflow.
    logLikelihood += k * eta - n * (Math.max(eta, 0) + log1p(exp(-Math.abs(eta))));
    const leverage = weight * forward(factor, row).reduce((sum, z) => sum + z * z, 0);
    const residual = k - n * probability + leverage * (0.5 - probability);
    const added = leverage * probability * (1 - probability);
    for (let i = 0; i < p; i += 1) for (let j = 0; j < p; j += 1) curvature[i]![j]! += added * row[i]! * row[j]!;
    for (let j = 0; j < p; j += 1) score[j]! += residual * row[j]!;
  });
  return { information, curvature, score, logLikelihood };
}

/**
 * Profile-likelihood interval of one coefficient: where the penalized likelihood, maximized over the others, has fallen by half of a
 * chi-square quantile with one degree of freedom. An end is infinite where it never falls so far within a thousand standard errors.
 * Source: Heinze and Schemper 2002, Statistics in Medicine 21, 2409.
 *
 * @param quantile  of chi-square with one degree of freedom, 3.841 for 95 %
 */
export function profileInterval(
  data: BinomialData,
  fit: FirthFit,
  coefficient: number,
  quantile: number,
): [number, number] {
  const best = fit.coefficients[coefficient]!;
  const root = Math.sqrt(quantile);
  /** Signed root of the fall, which is nearly straight, less the one that is wanted; `start` is moved along. */
  const beyond = (value: number, start: { at: Float64Array }): number => {
    const there = fitFirth(data, new Map([[coefficient, value]]), start.at);
    if (!there?.converged) return Infinity;
    start.at = there.coefficients;
    return Math.sqrt(Math.max(0, 2 * (fit.logLikelihood - there.logLikelihood))) - root;
  };
  const end = (direction: 1 | -1): number => {
    const start = { at: fit.coefficients };
    const longest = 1000 * fit.errors[coefficient]!;
    let [inside, shortOf] = [0, -root];
    let outside = root * fit.errors[coefficient]!;
    let past = beyond(best + direction * outside, start);
    while (!(past > 0)) {
      [inside, shortOf] = [outside, past];
      outside *= 2;
      if (outside > longest) return direction * Infinity;
      past = beyond(best + direction * outside, start);
    }
    // False position with the end that stays halved (Illinois; Dowell and Jarratt 1971, BIT 11, 168), else halving.
    let kept: 'inside' | 'outside' | undefined;
    for (let i = 0; i < 60 && outside - inside > 1e-11 * outside; i += 1) {
      const share = past === Infinity ? 0.5 : shortOf / (shortOf - past);
      const between = inside + share * (outside - inside);
      const here = beyond(best + direction * between, start);
      if (Math.abs(here) < 1e-11) return best + direction * between;
      if (here > 0) {
        [outside, past] = [between, here];
        if (kept === 'inside') shortOf /= 2;
        kept = 'inside';
      } else {
        [inside, shortOf] = [between, here];
        if (kept === 'outside') past /= 2;
        kept = 'outside';
      }
    }
    return best + direction * outside;
  };
  return [end(-1), end(1)];
}
