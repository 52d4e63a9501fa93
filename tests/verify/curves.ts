import { type Check, compareLists, reference, type Row } from './check.ts';
import { fitCurve, gaussianAicc, type Model, standardErrors } from './fit.ts';

interface Inputs {
  x?: number[];
  conc?: number[];
  y: number[];
  start: number[];
}

interface Expected {
  names: string[];
  coef: number[];
  se: number[];
  rss: number;
  aicc: number;
}

const { exp, log } = Math;

/** Models as the files print them; parameters in the order of their start. */
const curves: { file: string; name: string; source: string; origin: Check['origin']; model: Model }[] = [
  {
    file: 'nls-chick1-3pl',
    name: 'Three-parameter logistic, chick 1',
    source: 'R nls on datasets::ChickWeight',
    origin: 'computed',
    model: (b, x) => b[0]! / (1 + exp((b[1]! - x) / b[2]!)),
  },
  {
    file: 'nls-chick1-4pl',
    name: 'Four-parameter logistic, chick 1',
    source: 'R help page of SSfpl; R nls',
    origin: 'from memory',
    model: (b, x) => b[0]! + (b[1]! - b[0]!) / (1 + exp((b[2]! - x) / b[3]!)),
  },
  {
    file: 'nls-dnase-3pl',
    name: 'Three-parameter logistic, DNase run 1',
    source: 'Davidian and Giltinan 1995; R nls',
    origin: 'from memory',
    model: (b, x) => b[0]! / (1 + exp((b[1]! - log(x)) / b[2]!)),
  },
  {
    file: 'nls-dnase-4pl',
    name: 'Four-parameter logistic, DNase run 1',
    source: 'Davidian and Giltinan 1995; R nls',
    origin: 'computed',
    model: (b, x) => b[0]! + (b[1]! - b[0]!) / (1 + exp((b[2]! - log(x)) / b[3]!)),
  },
  {
    file: 'nls-loblolly329',
    name: 'Asymptotic growth, loblolly pine 329',
    source: 'R help page of SSasymp; R nls',
    origin: 'from memory',
    model: (b, x) => b[0]! + (b[1]! - b[0]!) * exp(-exp(b[2]!) * x),
  },
  {
    file: 'nls-puromycin',
    name: 'Michaelis-Menten, puromycin',
    source: 'Bates and Watts 1988, A1.3; R nls',
    origin: 'from memory',
    model: (b, x) => (b[0]! * x) / (b[1]! + x),
  },
  {
    file: 'nls-ryegrass-ll3',
    name: 'Three-parameter log-logistic, ryegrass',
    source: 'Inderjit et al. 2002; R nls, SciPy',
    origin: 'computed',
    model: (b, x) => b[1]! / (1 + (x / b[2]!) ** b[0]!),
  },
  {
    file: 'nls-ryegrass-ll4',
    name: 'Four-parameter log-logistic, ryegrass',
    source: 'Inderjit et al. 2002; R nls, SciPy',
    origin: 'from memory',
    model: (b, x) => b[1]! + (b[2]! - b[1]!) / (1 + (x / b[3]!) ** b[0]!),
  },
  {
    file: 'nls-ryegrass-ll5',
    name: 'Five-parameter log-logistic, ryegrass',
    source: 'Inderjit et al. 2002; R nls, SciPy',
    origin: 'computed',
    model: (b, x) => b[1]! + (b[2]! - b[1]!) / (1 + (x / b[3]!) ** b[0]!) ** b[4]!,
  },
];

function run(file: string, model: Model): Row[] {
  const { inputs, expected, tolerance } = reference<Inputs, Expected>(file);
  const { y, start } = inputs;
  const fit = fitCurve(model, inputs.x ?? inputs.conc!, y, start);
  const { coef_rel: coefficient, se_rel: error, rss_rel: rss, aicc_abs: criterion } = tolerance;
  return [
    ...compareLists(expected.names, expected.coef, fit.parameters, { relative: coefficient! }),
    ...compareLists(
      expected.names.map((name) => `error of ${name}`),
      expected.se,
      standardErrors(fit.covariance),
      { relative: error! },
    ),
    ...compareLists(['residual sum of squares'], [expected.rss], [fit.rss], { relative: rss! }),
    // Six points for three parameters: ours then counts as many readings as the correction needs to stay large and finite.
    y.length < start.length + 4
      ? { quantity: 'AICc', notCompared: 'fewer readings than the criterion is given here' }
      : {
          quantity: 'AICc',
          expected: expected.aicc,
          found: gaussianAicc(fit.rss, y.length, start.length),
          tolerance: { absolute: criterion! },
        },
  ];
}

export const fittedCurves: Check[] = curves.map(({ file, name, source, origin, model }) => ({
  subject: 'Fitted curves',
  name,
  of: 'leastSquares, aicc',
  source,
  origin,
  file,
  run: () => run(file, model),
}));

export const modelChoice: Check[] = [
  {
    subject: 'Fitted curves',
    name: 'Choice of model for ryegrass',
    of: 'aicc',
    source: 'Hurvich and Tsai 1989; AIC by R',
    origin: 'computed',
    file: 'aicc-ryegrass',
    run: () => {
      type Each = Record<'ll3' | 'll4' | 'll5', number>;
      const { inputs, expected, tolerance } = reference<
        { n: number; rss: Each; p: Each },
        { aicc: Each; chosen: keyof Each }
      >('aicc-ryegrass');
      const models = ['ll3', 'll4', 'll5'] as const;
      const found = models.map((model) => gaussianAicc(inputs.rss[model], inputs.n, inputs.p[model]));
      return [
        ...compareLists(
          models.map((model) => `AICc of ${model}`),
          models.map((model) => expected.aicc[model]),
          found,
          { absolute: tolerance['abs']! },
        ),
        {
          quantity: 'which has the least',
          expected: models.indexOf(expected.chosen),
          found: found.indexOf(Math.min(...found)),
          tolerance: 'exact',
        },
      ];
    },
  },
];
