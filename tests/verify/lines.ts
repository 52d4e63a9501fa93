import { type Check, compareLists, halfUnit, reference, type Row } from './check.ts';
import { fitCurve, fitLinear, standardErrors } from './fit.ts';

function calibrationLine(): Row[] {
  interface Inputs {
    t_degC: number[];
    b_degC: number[];
    t0_degC: number;
    predict_at_degC: number;
  }
  type Line = Record<'y1' | 's_y1' | 'y2' | 's_y2' | 'r' | 's' | 'b30' | 'u_b30', number>;
  const { inputs, expected, tolerance } = reference<Inputs, { published_rounded: Line; unrounded: Line }>(
    'gum-h3-thermometer',
  );
  const { t_degC: t, b_degC: b, t0_degC: t0, predict_at_degC: at } = inputs;
  const fit = fitLinear(
    t.map((value) => [1, value - t0]),
    b,
  );
  const [y1, y2] = fit.parameters;
  const [s1, s2] = standardErrors(fit.covariance);
  const [c11, c12, , c22] = fit.covariance;
  const far = at - t0;
  const found: Line = {
    y1: y1!,
    s_y1: s1!,
    y2: y2!,
    s_y2: s2!,
    r: c12! / (s1! * s2!),
    s: Math.sqrt(fit.rss / (b.length - 2)),
    b30: y1! + y2! * far,
    u_b30: Math.sqrt(c11! + 2 * far * c12! + far * far * c22!),
  };
  // Decimals of table H.6 and of H.3.4.
  const decimals: Line = { y1: 4, s_y1: 4, y2: 5, s_y2: 5, r: 2, s: 4, b30: 4, u_b30: 4 };
  return (Object.keys(found) as (keyof Line)[]).flatMap((name) => [
    ...compareLists([name], [expected.unrounded[name]], [found[name]], { relative: tolerance['unrounded_rel']! }),
    ...compareLists([`${name}, printed`], [expected.published_rounded[name]], [found[name]], halfUnit(decimals[name])),
  ]);
}

function joinedLines(): Row[] {
  type Expected = Record<'breakpoint' | 'intercept' | 'slope_left' | 'slope_right' | 'rss', number>;
  const { inputs, expected, tolerance } = reference<{ x: number[]; y: number[] }, Expected>('segmented-stagnant');
  const fit = fitCurve(
    (b, x) => b[1]! + b[2]! * x + (b[3]! - b[2]!) * Math.max(0, x - b[0]!),
    inputs.x,
    inputs.y,
    [0.1, 0.5, -0.5, -1],
  );
  const { breakpoint_abs: place, slope_rel: slope, rss_rel: rss } = tolerance;
  const [breakpoint, intercept, left, right] = fit.parameters;
  return [
    ...compareLists(['where they join'], [expected.breakpoint], [breakpoint!], { absolute: place! }),
    ...compareLists(
      ['intercept', 'left slope', 'right slope'],
      [expected.intercept, expected.slope_left, expected.slope_right],
      [intercept!, left!, right!],
      { relative: slope! },
    ),
    ...compareLists(['residual sum of squares'], [expected.rss], [fit.rss], { relative: rss! }),
  ];
}

export const lines: Check[] = [
  {
    subject: 'Lines',
    name: 'Thermometer calibration, with its prediction',
    of: 'leastSquares, covariance',
    source: 'GUM (JCGM 100:2008) H.3',
    origin: 'published',
    file: 'gum-h3-thermometer',
    run: calibrationLine,
  },
  {
    subject: 'Lines',
    name: 'Two joined lines, stagnant band height',
    of: 'leastSquares',
    source: 'Bacon and Watts 1971; R segmented',
    origin: 'computed',
    file: 'segmented-stagnant',
    run: joinedLines,
  },
];
