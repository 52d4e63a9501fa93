import { inParallel } from '../in-parallel.ts';
import type { BenchmarkOptions, Figure, Section, SectionResult } from '../section.ts';
import { type Kind, kinds } from '../sweep/kinds.ts';
import { percent, shareText, table } from '../table.ts';
import { quantities, type SweepTask, type SweepVerdict } from './judge-sweep.ts';
import { type QuantityTally, type Tally, tally } from './tally.ts';

/** 21 kinds of 20 sweeps: 420. */
const sweepsOfEach = 20;
/** A sweep that comes by each pressure once does not hold the lag that the told fit is told: shown with the others and apart. */
const oneWay: ReadonlySet<Kind> = new Set(['down only', 'up only']);
/** An interval at 95 % is honest when it holds the truth this often. */
const least = 0.92;
const most = 0.98;
/** As good as a fit that is told everything is an error of at most this many times its error. */
const worstRatio = 1.5;

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
      `  < too rarely, > too often: beyond chance outside ${percent(least)}-${percent(most)} %.`,
      ...table([heldHeading, ...[...perKind, all].map(heldRow)]),
      '',
      'Errors: root mean square, inH2O, V and s; in brackets the mean width of the interval. Told fit: least squares that is',
      'told the form of the curve, the lags, the noise and where to start, on the same ends; the 95 % interval of the ratio behind it.',
      ...table([errorHeading, ...[...perKind, all].map(errorRow)]),
      ...(all.edges.oracleFailed > 0
        ? [
            `Sweeps on which the told fit found no answer, or another status, left out of the ratio where it has no end: ${all.edges.oracleFailed}.`,
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

/** Whether chance explains a share outside of what is honest. */
function sign({ held }: QuantityTally): string {
  if (held.of === 0) return ' ';
  if (held.ci[1] < least) return '<';
  return held.ci[0] > most ? '>' : ' ';
}

const errorHeading = ['kind', ...quantities, 'both ends', 'told fit', 'ratio'];
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
  const beyond = perKind.filter(({ edges }) => edges.ratioCi[0] > worstRatio);
  const dishonest = perKind.flatMap((tally) =>
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
        wanted: `${percent(least)} to ${percent(most)} %`,
        found: held.of === 0 ? '-' : `${percent(held.share, 1)} %`,
        met: held.of === 0 ? undefined : held.share >= least && held.share <= most,
      };
    }),
    {
      what: 'kinds whose intervals are off by more than chance',
      wanted: 'none',
      found: dishonest.length === 0 ? 'none' : dishonest.join(', '),
      met: dishonest.length === 0,
    },
    {
      what: `error of the ends against a told fit, ${bothWays.sweeps} sweeps both ways`,
      wanted: `at most ${worstRatio} times`,
      found: `${ratioText(bothWays.edges)} times`,
      met: bothWays.edges.count === 0 ? undefined : bothWays.edges.ratio <= worstRatio,
    },
    {
      what: 'error of the ends against a told fit, all kinds',
      wanted: `at most ${worstRatio} times`,
      found: `${ratioText(all.edges)} times`,
      met: all.edges.count === 0 ? undefined : all.edges.ratio <= worstRatio,
    },
    {
      what: 'kinds beyond that by more than chance',
      wanted: 'none',
      found: beyond.length === 0 ? 'none' : beyond.map(({ kind, edges }) => `${kind} ${ratioText(edges)}`).join(', '),
      met: beyond.length === 0,
    },
  ];
}
