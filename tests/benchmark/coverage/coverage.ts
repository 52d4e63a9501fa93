import { inParallel } from '../in-parallel.ts';
import type { BenchmarkOptions, Figure, Section, SectionResult } from '../section.ts';
import { type Kind, kinds } from '../sweep/kinds.ts';
import { percent, shareText, table } from '../table.ts';
import { quantities, type SweepTask, type SweepVerdict } from './judge-sweep.ts';
import { type QuantityTally, type Tally, tally } from './tally.ts';

/** 24 kinds of 20 sweeps: 480. */
const sweepsOfEach = 20;
/**
 * A sweep that passes each pressure once does not show the lag, which the oracle knows: its ratio is shown with the others and
 * apart.
 */
const oneWay: ReadonlySet<Kind> = new Set(['down only', 'up only']);
/**
 * Coverage of a 95 % interval that is accepted: with a true 95 %, four hundred ends come out beyond by chance once in 170 runs
 * (binomial).
 */
const minCoverage = 0.92;
const maxCoverage = 0.98;
/** Largest ratio of our error to that of the oracle, which knows lags, noise and form of the curve. */
const maxRatio = 1.5;

export const coverage: Section = {
  name: 'honesty',
  title: 'Honesty: how near the answers are, and how often the 95 % intervals hold the truth',
  run,
};

async function run({ sweeps = sweepsOfEach, seed, kinds: wanted, progress }: BenchmarkOptions): Promise<SectionResult> {
  const drawn = kinds.filter((kind) => !wanted || wanted.includes(kind));
  const tasks = drawn.flatMap((kind) =>
    Array.from({ length: sweeps }, (_, i): SweepTask => ({ kind, seed: seed + i })),
  );
  const verdicts = await inParallel<SweepVerdict>(new URL('judge-sweep.ts', import.meta.url), tasks, (count, of) =>
    progress(`${count} of ${of} sweeps`),
  );
  const of = (kind: Kind) => verdicts.filter((verdict) => verdict.kind === kind);
  const perKind = drawn.map((kind) => tally(kind, of(kind)));
  const all = tally('all', verdicts);
  return {
    lines: [
      `${verdicts.length} simulated sweeps, seeds ${seed} to ${seed + sweeps - 1} of each kind; truth from the model.`,
      '',
      'Held: intervals that hold the truth, of all; in brackets the exact 95 % interval of that share.',
      `  < too rarely, > too often: beyond chance outside ${percent(minCoverage)}-${percent(maxCoverage)} %.`,
      ...table([heldHeading, ...[...perKind, all].map(heldRow)]),
      '',
      'Errors: root mean square, inH2O, V and s; in brackets the mean width of the interval. Oracle: least squares that knows the',
      'form of the curve, the lags, the noise and where to start, on the same ends; the 95 % interval of the ratio behind it.',
      ...table([errorHeading, ...[...perKind, all].map(errorRow)]),
      ...(all.edges.oracleFailed > 0
        ? [
            `Sweeps on which the oracle found no answer, or another status, left out of the ratio where it has no end: ${all.edges.oracleFailed}.`,
          ]
        : []),
      ...(all.wrong.length > 0 ? ['', `Wrong status: ${all.wrong.join('; ')}`] : []),
    ],
    data: { sweeps: verdicts.length, firstSeed: seed, kinds: perKind, all },
    figures: figures(
      perKind,
      all,
      tally(
        'both ways',
        verdicts.filter(({ kind }) => !oneWay.has(kind)),
      ),
    ),
  };
}

const heldHeading = ['kind', 'sweeps', 'wrong status', ...quantities];
const heldRow = (tally: Tally) => [
  tally.kind,
  String(tally.sweeps),
  String(tally.wrong.length),
  ...quantities.map((name) => `${shareText(tally.quantities[name].held)} ${sign(tally.quantities[name])}`),
];

/** Marks a coverage that chance does not explain: `<` too rarely, `>` too often. */
function sign({ held }: QuantityTally): string {
  if (held.of === 0) return ' ';
  if (held.ci[1] < minCoverage) return '<';
  return held.ci[0] > maxCoverage ? '>' : ' ';
}

const errorHeading = ['kind', ...quantities, 'both ends', 'oracle', 'ratio'];
const errorRow = ({ kind, quantities: found, edges }: Tally) => [
  kind,
  ...quantities.map((name) => {
    const { rms, meanWidth, held } = found[name];
    return held.of === 0 ? '-' : `${rms.toFixed(4)} (${meanWidth.toFixed(3)})`;
  }),
  ...(edges.count === 0 ? ['-', '-', '-'] : [edges.rms.toFixed(4), edges.oracleRms.toFixed(4), ratioText(edges)]),
];

const ratioText = ({ ratio, ratioCi: [from, to] }: Tally['edges']) =>
  `${ratio.toFixed(2)} (${from.toFixed(1)}-${to.toFixed(1)})`;

function figures(perKind: Tally[], all: Tally, bothWays: Tally): Figure[] {
  const beyond = perKind.filter(({ edges }) => edges.ratioCi[0] > maxRatio);
  const miscovered = perKind.flatMap((tally) =>
    quantities.filter((name) => sign(tally.quantities[name]) !== ' ').map((name) => `${tally.kind} (${name})`),
  );
  return [
    {
      what: 'sweeps with a wrong status',
      wanted: 'none',
      found: String(all.wrong.length),
      met: all.wrong.length === 0,
    },
    ...quantities.map((name): Figure => {
      const { held } = all.quantities[name];
      return {
        what: `95 % interval of ${name === 'low' || name === 'high' ? `the ${name} end` : `the ${name}`} holds the truth`,
        wanted: `${percent(minCoverage)} to ${percent(maxCoverage)} %`,
        found: held.of === 0 ? '-' : `${percent(held.share, 1)} %`,
        met: held.of === 0 ? undefined : held.share >= minCoverage && held.share <= maxCoverage,
      };
    }),
    {
      what: 'kinds whose intervals are off by more than chance',
      wanted: 'none',
      found: miscovered.length === 0 ? 'none' : miscovered.join(', '),
      met: miscovered.length === 0,
    },
    {
      what: `error of the ends against the oracle fit, ${bothWays.sweeps} sweeps both ways`,
      wanted: `at most ${maxRatio} times`,
      found: `${ratioText(bothWays.edges)} times`,
      met: bothWays.edges.count === 0 ? undefined : bothWays.edges.ratio <= maxRatio,
    },
    {
      what: 'error of the ends against the oracle fit, all kinds',
      wanted: `at most ${maxRatio} times`,
      found: `${ratioText(all.edges)} times`,
      met: all.edges.count === 0 ? undefined : all.edges.ratio <= maxRatio,
    },
    {
      what: 'kinds beyond that by more than chance',
      wanted: 'none',
      found: beyond.length === 0 ? 'none' : beyond.map(({ kind, edges }) => `${kind} ${ratioText(edges)}`).join(', '),
      met: beyond.length === 0,
    },
  ];
}
