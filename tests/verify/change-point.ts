import { changePoint as findChange } from '../../shared/numerics/change-point.ts';
import { laggedProduct } from '../../shared/numerics/autocorrelation.ts';
import { mean } from '../../shared/numerics/descriptive.ts';
import { type Check, compareLists, reference, type Row } from './check.ts';

interface Expected {
  last_index_of_first_segment_1based: number;
  mean_before: number;
  mean_after: number;
  rss_0_breaks: number;
  rss_1_break: number;
  bic_by_breaks: number[];
  supF: number;
}

function run(): Row[] {
  const { inputs, expected, tolerance } = reference<{ flow: number[] }, Expected>('changepoint-nile');
  const flow = Float64Array.from(inputs.flow);
  const n = flow.length;
  // Runs of at least 15 % of the values, as strucchange takes them.
  const least = 15;
  const change = findChange(flow, least)!;
  const middle = mean(flow);
  const squares = [
    laggedProduct(
      flow.map((value) => value - middle),
      0,
    ),
    change.rss,
  ] as const;
  // Schwarz's criterion of a normal series, two parameters a run, as strucchange counts.
  const criteria = squares.map(
    (left, breaks) => n * (Math.log((2 * Math.PI * left) / n) + 1) + 2 * (breaks + 1) * Math.log(n),
  );
  const rss = { relative: tolerance['rss_rel']! };
  const last = expected.last_index_of_first_segment_1based;
  return [
    ...compareLists(['first year of the new level'], [last], [change.start], 'exact'),
    ...compareLists(
      ['level before', 'level after', 'squares left by one break', 'squares left by none'],
      [expected.mean_before, expected.mean_after, expected.rss_1_break, expected.rss_0_breaks],
      [mean(flow.subarray(0, change.start)), mean(flow.subarray(change.start)), squares[1], squares[0]],
      rss,
    ),
    ...compareLists(
      criteria.map((_, breaks) => `criterion of ${breaks} breaks`),
      expected.bic_by_breaks.slice(0, criteria.length),
      criteria,
      rss,
    ),
    ...compareLists(['largest F'], [expected.supF], [(squares[0] - squares[1]) / (squares[1] / (n - 2))], {
      relative: tolerance['supF_rel']!,
    }),
    { quantity: 'criteria of more breaks', notCompared: 'one change at a time is looked for' },
    { quantity: 'interval of the year, Pettitt test', notCompared: 'not done here' },
  ];
}

export const changePoint: Check[] = [
  {
    subject: 'Trend and change',
    name: 'Change of level of the Nile at Aswan',
    of: 'changePoint',
    source: 'Cobb 1978; Zeileis et al. 2003; R strucchange',
    origin: 'from memory',
    file: 'changepoint-nile',
    run,
  },
];
