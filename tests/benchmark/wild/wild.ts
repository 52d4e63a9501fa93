import { inParallel } from '../in-parallel.ts';
import type { BenchmarkOptions, Figure, Section, SectionResult } from '../section.ts';
import { median, percent, rootMeanSquare, type Share, shareOf, shareText, table } from '../table.ts';
import { atMost, rejectedByHolm } from '../visit-answers/holm.ts';
import { type WildQuantity, wildQuantities, type WildVerdict } from './judge.ts';
import { wellBehaved, wildKinds } from './kinds.ts';

const sweepsOfEach = 40;
/** Pooled coverage that is wanted of a 95 % interval, and the level at which kinds are called off. */
const wantedCoverage = [0.94, 0.97] as const;
const [confidence, level] = [0.95, 0.05];
/** Median width against that of the Cramer-Rao bound, and root mean square error against its standard error. */
const [mostWidth, mostError] = [1.3, 1.2];
/** Width of a 95 % interval in standard errors. */
const widthOf95 = 2 * 1.959964;

interface KindTally {
  kind: string;
  sweeps: number;
  refused: number;
  wrong: string[];
  misplaced: string[];
  held: Record<WildQuantity, Share>;
  rms: Record<WildQuantity, number>;
  /** Of both ends together; NaN where there is no bound. */
  width: number;
  error: number;
}

function tally(kind: string, own: readonly WildVerdict[]): KindTally {
  const judged = (name: WildQuantity) => own.flatMap((verdict) => verdict.judged[name] ?? []);
  const of = <T>(make: (name: WildQuantity) => T) =>
    Object.fromEntries(wildQuantities.map((name) => [name, make(name)])) as Record<WildQuantity, T>;
  const bounded = [...judged('low'), ...judged('high')].filter(({ bound }) => bound !== undefined);
  return {
    kind,
    sweeps: own.length,
    refused: own.filter(({ refused }) => refused !== undefined).length,
    wrong: own.flatMap(({ seed, wrong }) => (wrong ? [`${kind} ${seed}: ${wrong}`] : [])),
    misplaced: own.flatMap(({ seed, misplaced }) => (misplaced ? [`${kind} ${seed}: ${misplaced}`] : [])),
    held: of((name) => shareOf(judged(name).filter(({ held }) => held).length, judged(name).length)),
    rms: of((name) => rootMeanSquare(judged(name).map(({ error }) => error))),
    width: median(bounded.map(({ width, bound }) => width / widthOf95 / bound!)),
    error: rootMeanSquare(bounded.map(({ error, bound }) => error / bound!)),
  };
}

const number = (value: number, digits: number) => (Number.isFinite(value) ? value.toFixed(digits) : '');
const heading = ['kind', 'refused', 'status', 'misplaced', ...wildQuantities, 'errors', 'width', 'error'];
const row = (one: KindTally) => [
  one.kind,
  String(one.refused),
  String(one.wrong.length),
  String(one.misplaced.length),
  ...wildQuantities.map((name) => `${one.held[name].count}/${one.held[name].of}`),
  wildQuantities.map((name) => number(one.rms[name], 3)).join(' '),
  number(one.width, 2),
  number(one.error, 2),
];

/** Kinds that hold a quantity more rarely than chance explains. */
function tooRare(tallies: readonly KindTally[]): string[] {
  const tests = tallies.flatMap(({ kind, held }) =>
    wildQuantities.flatMap((name) => {
      const { count, of } = held[name];
      return of === 0 ? [] : [{ what: `${kind} (${name})`, p: atMost(count, of, confidence) }];
    }),
  );
  const rejected = rejectedByHolm(
    tests.map(({ p }) => p),
    level,
  );
  return tests.filter((_, i) => rejected[i]).map(({ what }) => what);
}

function figuresOf(tallies: readonly KindTally[], all: KindTally, good: KindTally): Figure[] {
  const rare = tooRare(tallies);
  const [least, most] = wantedCoverage;
  const none = (what: string, found: readonly string[]): Figure => ({
    what,
    wanted: 'none',
    found: found.length === 0 ? 'none' : found.join(', '),
    met: found.length === 0,
  });
  const ratio = (what: string, found: number, limit: number): Figure => ({
    what,
    wanted: `at most ${limit} times`,
    found: `${number(found, 2)} times`,
    met: Number.isFinite(found) ? found <= limit : undefined,
  });
  return [
    {
      what: 'sweeps with a wrong status',
      wanted: 'under 0.5 %',
      found: `${all.wrong.length} of ${all.sweeps}`,
      met: all.wrong.length < 0.005 * all.sweeps,
    },
    none('set points outside the middle half of the true window about which nothing is said', all.misplaced),
    ...wildQuantities.map((name): Figure => ({
      what: `95 % interval of the ${name === 'low' || name === 'high' ? `${name} end` : name} holds the truth, kinds that behave well`,
      wanted: `${percent(least)} to ${percent(most)} %`,
      found: shareText(good.held[name]),
      met: good.held[name].of === 0 ? undefined : good.held[name].share >= least && good.held[name].share <= most,
    })),
    none('kinds that hold the truth more rarely than chance explains (Holm)', rare),
    ratio('median width of the ends against the Cramer-Rao bound', good.width, mostWidth),
    ratio('error of the ends against the Cramer-Rao bound', good.error, mostError),
  ];
}

async function run({ sweeps = sweepsOfEach, seed, kinds, progress }: BenchmarkOptions): Promise<SectionResult> {
  const drawn = wildKinds.filter((kind) => !kinds || kinds.includes(kind));
  const tasks = drawn.flatMap((kind) => Array.from({ length: sweeps }, (_, i) => ({ kind, seed: seed + i })));
  const verdicts = await inParallel<WildVerdict>(new URL('judge.ts', import.meta.url), tasks, (done, of) =>
    progress(`${done} of ${of} sweeps`),
  );
  const perKind = drawn.map((kind) =>
    tally(
      kind,
      verdicts.filter((verdict) => verdict.kind === kind),
    ),
  );
  const good = tally(
    'behave well',
    verdicts.filter(({ kind }) => wellBehaved.has(kind)),
  );
  const all = tally('all', verdicts);
  return {
    lines: [
      `${verdicts.length} sweeps, seeds ${seed} to ${seed + sweeps - 1} of each kind; truth from the definitions.`,
      'Low to lag: intervals that hold the truth. Errors: root mean square of the same four. Width, error: of the ends, against the Cramer-Rao',
      'bound of each sweep, to which the family of the curve is known.',
      ...table([heading, ...[...perKind, good, all].map(row)]),
      ...all.wrong.map((each) => `wrong status: ${each}`),
    ],
    data: { sweeps: verdicts.length, firstSeed: seed, kinds: perKind, good, all },
    figures: figuresOf(perKind, all, good),
  };
}

export const wild: Section = {
  name: 'wild',
  title: 'In the wild: curves, hands and meters that the analysis was not made for',
  run,
};
