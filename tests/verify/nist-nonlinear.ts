import { type Check, compareLists, reference, type Row } from './check.ts';
import { fitCurve, type Model, standardErrors } from './fit.ts';

interface Inputs {
  start1: number[];
  start2: number[];
  x?: number[];
  x1?: number[];
  x2?: number[];
  y: number[];
}

interface Expected {
  params: number[];
  std_errors: number[];
  rss: number;
}

const { exp, cos, sin, atan, PI } = Math;

/** A polynomial of third degree over another. */
const cubicOverCubic: Model = (b, x) =>
  (b[0]! + x * (b[1]! + x * (b[2]! + x * b[3]!))) / (1 + x * (b[4]! + x * (b[5]! + x * b[6]!)));
const chwirut: Model = (b, x) => exp(-b[0]! * x) / (b[1]! + b[2]! * x);
const gauss: Model = (b, x) =>
  b[0]! * exp(-b[1]! * x) + b[2]! * exp(-(((x - b[3]!) / b[4]!) ** 2)) + b[5]! * exp(-(((x - b[6]!) / b[7]!) ** 2));
const lanczos: Model = (b, x) => b[0]! * exp(-b[1]! * x) + b[2]! * exp(-b[3]! * x) + b[4]! * exp(-b[5]! * x);

/** The models as the data sets print them. */
const models: Record<string, Model> = {
  bennett5: (b, x) => b[0]! * (b[1]! + x) ** (-1 / b[2]!),
  boxbod: (b, x) => b[0]! * (1 - exp(-b[1]! * x)),
  chwirut1: chwirut,
  chwirut2: chwirut,
  danwood: (b, x) => b[0]! * x ** b[1]!,
  eckerle4: (b, x) => (b[0]! / b[1]!) * exp(-(((x - b[2]!) / b[1]!) ** 2) / 2),
  enso: (b, x) =>
    b[0]! +
    b[1]! * cos((2 * PI * x) / 12) +
    b[2]! * sin((2 * PI * x) / 12) +
    b[4]! * cos((2 * PI * x) / b[3]!) +
    b[5]! * sin((2 * PI * x) / b[3]!) +
    b[7]! * cos((2 * PI * x) / b[6]!) +
    b[8]! * sin((2 * PI * x) / b[6]!),
  gauss1: gauss,
  gauss2: gauss,
  gauss3: gauss,
  hahn1: cubicOverCubic,
  kirby2: (b, x) => (b[0]! + x * (b[1]! + x * b[2]!)) / (1 + x * (b[3]! + x * b[4]!)),
  lanczos1: lanczos,
  lanczos2: lanczos,
  lanczos3: lanczos,
  mgh09: (b, x) => (b[0]! * (x * x + x * b[1]!)) / (x * x + x * b[2]! + b[3]!),
  mgh10: (b, x) => b[0]! * exp(b[1]! / (x + b[2]!)),
  mgh17: (b, x) => b[0]! + b[1]! * exp(-x * b[3]!) + b[2]! * exp(-x * b[4]!),
  misra1a: (b, x) => b[0]! * (1 - exp(-b[1]! * x)),
  misra1b: (b, x) => b[0]! * (1 - (1 + (b[1]! * x) / 2) ** -2),
  misra1c: (b, x) => b[0]! * (1 - (1 + 2 * b[1]! * x) ** -0.5),
  misra1d: (b, x) => (b[0]! * b[1]! * x) / (1 + b[1]! * x),
  rat42: (b, x) => b[0]! / (1 + exp(b[1]! - b[2]! * x)),
  rat43: (b, x) => b[0]! / (1 + exp(b[1]! - b[2]! * x)) ** (1 / b[3]!),
  roszman1: (b, x) => b[0]! - b[1]! * x - atan(b[2]! / (x - b[3]!)) / PI,
  thurber: cubicOverCubic,
};

/** Nelson has two independent variables, and its response is fitted as a logarithm; x here is the index of the reading. */
const nelson =
  ({ x1, x2 }: Inputs): Model =>
  (b, i) =>
    b[0]! - b[1]! * x1![i]! * exp(-b[2]! * x2![i]!);

/** Fits one set from both of its starts. A start from which the solver reports that it did not converge is shown as such. */
function run(set: string): Row[] {
  const { inputs, expected, tolerance } = reference<Inputs, Expected>(`nist-nls-${set}`);
  const model = set === 'nelson' ? nelson(inputs) : models[set]!;
  const x = set === 'nelson' ? inputs.y.map((_, i) => i) : inputs.x!;
  const y = set === 'nelson' ? inputs.y.map(Math.log) : inputs.y;
  return [inputs.start1, inputs.start2].flatMap((start, number): Row[] => {
    const from = `start ${number + 1}`;
    const fit = fitCurve(model, x, y, start);
    if (!fit.converged) return [{ quantity: from, notCompared: `not converged (${fit.stop})` }];
    const named = (what: string) => expected.params.map((_, i) => `${from}: ${what}${i + 1}`);
    const { params_rel: relative, std_errors_rel: errors, rss_rel: rss } = tolerance;
    return [
      ...compareLists(named('b'), expected.params, fit.parameters, { relative: relative! }),
      // Lanczos1 is exact to its printed digits: its residuals are rounding, in its source as here.
      ...(errors === null || errors === undefined
        ? []
        : compareLists(named('error of b'), expected.std_errors, standardErrors(fit.covariance), { relative: errors })),
      ...(rss === null || rss === undefined
        ? []
        : compareLists([`${from}: residual sum of squares`], [expected.rss], [fit.rss], { relative: rss })),
    ];
  });
}

export const nistNonlinear: Check[] = [...Object.keys(models), 'nelson'].sort().map((set) => ({
  subject: 'Nonlinear least squares',
  name: reference(`nist-nls-${set}`).name.split(': ')[1]!,
  of: 'leastSquares, both starts',
  source: 'NIST StRD, nonlinear regression',
  origin: 'published',
  file: `nist-nls-${set}`,
  run: () => run(set),
}));
