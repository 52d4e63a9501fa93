import { predictStates, transitionsOf } from '../../shared/numerics/hidden-markov.ts';
import { type Check, compareLists, reference } from './check.ts';

interface Case {
  h: number;
  k: number;
  shift: number;
  one_sided: number;
  two_sided: number;
  printed: number;
}

/** Nodes and weights of Gauss-Legendre quadrature on [0, width]: Newton's method on the Legendre polynomial. */
function gaussLegendre(count: number, width: number): { at: number; weight: number }[] {
  return Array.from({ length: count }, (_, i) => {
    let x = Math.cos((Math.PI * (i + 0.75)) / (count + 0.5));
    let slope = 1;
    for (let round = 0; round < 20; round += 1) {
      let [last, value] = [1, x];
      for (let n = 2; n <= count; n += 1) [last, value] = [value, ((2 * n - 1) * x * value - (n - 1) * last) / n];
      slope = (count * (x * value - last)) / (x * x - 1);
      x -= value / slope;
    }
    return { at: (width * (1 + x)) / 2, weight: width / ((1 - x * x) * slope * slope) };
  });
}

const density = (z: number) => Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);

/** P(Z < z), standard normal, for the atom at zero: series of Abramowitz and Stegun 26.2.11. */
function below(z: number): number {
  let [term, sum] = [z, z];
  for (let n = 3; Math.abs(term) > 1e-18 * Math.abs(sum); n += 2) sum += term *= (z * z) / n;
  return 0.5 + density(z) * sum;
}

/**
 * Mean number of observations until the sum exceeds `h`: the sum is a Markov chain on zero and the nodes, and what has left it has
 * alarmed. Once its losses are geometric, what is still to come is a geometric series.
 */
function meanRunLength({ h, k, shift }: Case): number {
  const nodes = gaussLegendre(60, h);
  const from = [0, ...nodes.map(({ at }) => at)];
  const transitions = transitionsOf(
    from.map((sum) => [
      below(k - shift - sum),
      ...nodes.map(({ at, weight }) => weight * density(at - sum + k - shift)),
    ]),
  );
  let now = Float64Array.from(from, (_, i) => (i === 0 ? 1 : 0));
  let next = new Float64Array(from.length);
  let [left, total, ratio] = [1, 1, 0];
  for (let n = 0; n < 400 && left > 1e-16; n += 1) {
    predictStates(now, transitions, next);
    [now, next] = [next, now];
    const still = now.reduce((sum, p) => sum + p, 0);
    ratio = still / left;
    left = still;
    total += left;
  }
  return total + (left * ratio) / (1 - ratio);
}

/** The tracker sums log-likelihood ratios in its chain; its steps give the known run lengths of the sum that has tables. */
export const cusum: Check[] = [
  {
    subject: 'Hidden Markov models',
    name: 'Mean run lengths of the cumulative sum as a Markov chain',
    of: 'hidden-markov',
    source: 'Brook and Evans 1972, Biometrika 59, 539; Montgomery, Introduction to Statistical Quality Control',
    origin: 'from memory',
    file: 'cusum-run-lengths',
    run: () => {
      const { expected, tolerance } = reference<unknown, Case[]>('cusum-run-lengths');
      const found = expected.map(meanRunLength);
      const names = expected.map(({ h, shift }) => `one-sided, h = ${h}, shift ${shift}`);
      const relative = { relative: Number(tolerance['rel']) };
      // Two equal sides that start at zero never run against each other: rates of alarm add up.
      const twoSided = expected.map(
        (each, i) => 1 / (1 / found[i]! + 1 / meanRunLength({ ...each, shift: -each.shift })),
      );
      return [
        ...compareLists(
          names,
          expected.map(({ one_sided }) => one_sided),
          found,
          relative,
        ),
        ...compareLists(
          expected.map(({ h, shift }) => `two-sided, h = ${h}, shift ${shift}`),
          expected.map(({ two_sided }) => two_sided),
          twoSided,
          relative,
        ),
      ];
    },
  },
];
