import { inParallel } from '../in-parallel.ts';
import type { BenchmarkOptions, Figure, Section, SectionResult } from '../section.ts';
import { percent, type Share, shareOf, shareText, table } from '../table.ts';
import { provedBounds, wrongClaims } from './claims.ts';
import { type DesignName, designs } from './designs.ts';
import { type LightOffVerdict, wanted } from './judge-visit.ts';

const visitsOfEach = 400;
const rowsOfClaims = 20_000;
/** Pooled coverage that is wanted of a 95 % interval of the model. */
const wantedCoverage = [0.94, 0.97] as const;

interface Tally {
  design: string;
  visits: number;
  /** Each visit on average. */
  outward: number;
  failures: number;
  margin: number;
  marginPerTrial: number;
  beyond: number;
  held: Share;
  /** Of the intervals whose truth is neither near certainty nor near nothing. */
  heldBetween: Share;
  /** Of the ends that failures set: those where it truly lights as often as wanted, before and after the model. */
  goodEnds: Share;
  goodNarrowed: Share;
  narrowed: number;
}

function tally(design: string, own: readonly LightOffVerdict[]): Tally {
  const mean = (value: (verdict: LightOffVerdict) => number) =>
    own.reduce((sum, verdict) => sum + value(verdict), 0) / own.length;
  const intervals = own.flatMap((verdict) => verdict.intervals);
  const between = intervals.filter(({ truth }) => truth > 0.05 && truth < 0.95);
  const ends = own.flatMap((verdict) => verdict.ends);
  const [outward, margin] = [mean((verdict) => verdict.outward), mean((verdict) => verdict.margin)];
  return {
    design,
    visits: own.length,
    outward,
    failures: mean((verdict) => verdict.failures),
    margin,
    marginPerTrial: margin / outward,
    beyond: own.filter(({ beyond }) => beyond).length,
    held: shareOf(intervals.filter(({ held }) => held).length, intervals.length),
    heldBetween: shareOf(between.filter(({ held }) => held).length, between.length),
    goodEnds: shareOf(ends.filter(({ atEnd }) => atEnd >= wanted).length, ends.length),
    goodNarrowed: shareOf(ends.filter(({ atNarrowed }) => atNarrowed >= wanted).length, ends.length),
    narrowed: ends.filter(({ narrowed }) => narrowed).length,
  };
}

const heading = [
  'design',
  'outward',
  'failures',
  'margin',
  'per trial',
  'held %',
  'between %',
  'good ends',
  'narrowed',
  'then good',
];
const row = (one: Tally) => [
  one.design,
  one.outward.toFixed(2),
  one.failures.toFixed(3),
  one.margin.toFixed(3),
  one.marginPerTrial.toFixed(3),
  percent(one.held.share, 1),
  percent(one.heldBetween.share, 1),
  `${one.goodEnds.count}/${one.goodEnds.of}`,
  String(one.narrowed),
  `${one.goodNarrowed.count}/${one.goodNarrowed.of}`,
];

function figuresOf(tallies: readonly Tally[], all: Tally, bounds: Share, claims: Share): Figure[] {
  const of = (name: DesignName) => tallies.find(({ design }) => design === name)!;
  const ours = of('as advised');
  const against = (name: DesignName): Figure[] => {
    const other = of(name);
    return [
      {
        what: `proved margin per trial against ${name}`,
        wanted: 'more',
        found: `${ours.marginPerTrial.toFixed(3)} against ${other.marginPerTrial.toFixed(3)} inH2O`,
        met: ours.marginPerTrial > other.marginPerTrial,
      },
      {
        what: `failures a visit against ${name}`,
        wanted: 'at most a third',
        found: `${ours.failures.toFixed(3)} against ${other.failures.toFixed(3)}`,
        met: ours.failures <= other.failures / 3,
      },
    ];
  };
  const [least, most] = wantedCoverage;
  return [
    ...against('up and down'),
    ...against('evenly spaced'),
    {
      what: 'visits as advised with a trial beyond the limits',
      wanted: 'none',
      found: String(ours.beyond),
      met: ours.beyond === 0,
    },
    {
      // Near certainty and near nothing an interval that is bounded on one side holds the truth all but always.
      what: '95 % intervals of the lighting model hold the truth where that is 5 to 95 %, pooled',
      wanted: `${percent(least)} to ${percent(most)} %`,
      found: shareText(all.heldBetween),
      met: all.heldBetween.share >= least && all.heldBetween.share <= most,
    },
    {
      what: 'the same wherever the truth is',
      wanted: `at least ${percent(least)} %`,
      found: shareText(all.held),
      met: all.held.share >= least,
    },
    {
      what: 'ends set by a failure where it lights in 90 % of trials, after the model',
      wanted: 'no fewer than before',
      found: `${all.goodNarrowed.count} of ${all.goodNarrowed.of}, before ${all.goodEnds.count}`,
      met: all.goodNarrowed.count >= all.goodEnds.count,
    },
    {
      what: 'bounds proved at a setting are true (95 %)',
      wanted: 'at least 95 %',
      found: shareText(bounds),
      met: bounds.share >= 0.95,
    },
    {
      what: '90 % at 90 % confidence claimed of a pilot that lights in less',
      wanted: 'at most 10 %, but for chance',
      found: shareText(claims),
      met: claims.ci[0] <= 0.1,
    },
  ];
}

async function run({ sweeps = visitsOfEach, seed, progress }: BenchmarkOptions): Promise<SectionResult> {
  const names = Object.keys(designs) as DesignName[];
  const tasks = names.flatMap((design) => Array.from({ length: sweeps }, (_, i) => ({ design, seed: seed + i })));
  const verdicts = await inParallel<LightOffVerdict>(new URL('judge-visit.ts', import.meta.url), tasks, (done, of) =>
    progress(`${done} of ${of} visits`),
  );
  const tallies = names.map((name) =>
    tally(
      name,
      verdicts.filter(({ design }) => design === name),
    ),
  );
  const all = tally('all', verdicts);
  const [bounds, claims] = [provedBounds(rowsOfClaims, seed), wrongClaims(rowsOfClaims, seed)];
  return {
    lines: [
      `${verdicts.length} visits, seeds ${seed} to ${seed + sweeps - 1} of each design; pilots by definition, the plan at the setting first.`,
      'Outward: trials away from the setting. Failures, margin (inH2O, both sides): each visit. Held: 95 % intervals of the model that hold',
      `the truth; between: where that is 5 to 95 %. Ends that failures set where it truly lights in ${percent(wanted)} % of trials, before and after the model.`,
      ...table([heading, ...[...tallies, all].map(row)]),
    ],
    data: { visits: verdicts.length, firstSeed: seed, designs: tallies, all, bounds, claims },
    figures: figuresOf(tallies, all, bounds, claims),
  };
}

export const lightOff: Section = { name: 'light-off', title: 'Light-off trials: designs, model and claims', run };
