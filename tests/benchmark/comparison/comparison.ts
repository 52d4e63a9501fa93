import { comparedQuantities } from '../../../shared/model/results/analysis-result.ts';
import { inParallel } from '../in-parallel.ts';
import type { BenchmarkOptions, Section, SectionResult } from '../section.ts';
import type { Kind } from '../sweep/kinds.ts';
import { percent, type Share, shareOf, shareText, table } from '../table.ts';
import { changes, unchanged } from './changes.ts';
import type { PairTask, PairVerdict } from './judge-pair.ts';

/** Kinds in which both ends show; a minimum signal would make an end move when the plateau does. */
const pairKinds: Kind[] = ['two shoulders', 'stairs', 'noisy', 'fast', 'self-check', 'coarse digits'];
const unchangedOfEach = 20;
/** So many pairs of each kind for one change. */
const changedOfEach = 2;
/** How often something may be called changed when nothing was: 1 - confidence. */
const alarmsAllowed = 0.05;

export const comparison: Section = {
  name: 'comparison',
  title: 'Comparison: false alarms when nothing changed, and real changes found',
  run,
};

async function run({ sweeps, seed, kinds: wanted, progress }: BenchmarkOptions): Promise<SectionResult> {
  const kinds = pairKinds.filter((kind) => !wanted || wanted.includes(kind));
  const pairs = (change: string, each: number) =>
    kinds.flatMap((kind) => Array.from({ length: each }, (_, i): PairTask => ({ kind, change, seed: seed + i })));
  const tasks = changes.flatMap((change) =>
    pairs(
      change.name,
      change === unchanged ? (sweeps ?? unchangedOfEach) : Math.min(sweeps ?? changedOfEach, changedOfEach),
    ),
  );
  const verdicts = await inParallel<PairVerdict>(new URL('judge-pair.ts', import.meta.url), tasks, (count, of) =>
    progress(`${count} of ${of} pairs`),
  );
  const of = (change: string) => verdicts.filter((verdict) => verdict.change === change);
  const same = of(unchanged.name);
  const rows = changes
    .filter((change) => change !== unchanged)
    .map((change) => changeRow(change.name, of(change.name)));
  const alarmed = same.filter(({ significant }) => significant.length > 0);
  const alarms = shareOf(alarmed.length, same.length);
  const each = comparedQuantities.map((quantity) => ({
    quantity,
    alarms: same.filter(({ significant }) => significant.includes(quantity)).length,
  }));
  const refused = verdicts.filter((verdict) => verdict.refused);
  return {
    lines: [
      `${same.length} pairs of sweeps of an unchanged burner (noise, motion of the regulator and rates of the meters drawn anew), kinds: ${kinds.join(', ')}; first seed ${seed}.`,
      `Called changed: ${shareText(alarms)}; by quantity: ${each.map(({ quantity, alarms }) => `${quantity} ${alarms}`).join(', ')}.`,
      ...alarmed.map(({ kind, seed, significant }) => `  ${kind} ${seed}: ${significant.join(', ')}`),
      '',
      'Found: called changed, in the right direction. Others: pairs in which something else was called changed that was not.',
      'Held: intervals that hold the true change, of all six quantities whose truth is known.',
      ...table([['change', 'found', 'others', 'held'], ...rows.map(({ cells }) => cells)]),
      ...(refused.length > 0
        ? ['', `Refused: ${refused.map(({ kind, seed, refused }) => `${kind} ${seed}: ${refused}`).join('; ')}`]
        : []),
    ],
    data: {
      unchanged: { alarms, each, pairs: alarmed },
      changed: rows.map(({ data }) => data),
    },
    figures: [
      {
        what: 'false alarms of a comparison, all quantities together',
        wanted: `at most ${percent(alarmsAllowed)} %`,
        found: `${percent(alarms.share, 1)} % (${percent(alarms.ci[0])}-${percent(alarms.ci[1])} %)`,
        met: alarms.of === 0 ? undefined : alarms.share <= alarmsAllowed,
      },
    ],
  };
}

function changeRow(name: string, verdicts: PairVerdict[]): { cells: string[]; data: object } {
  const change = changes.find((each) => each.name === name)!;
  const found = shareOf(verdicts.filter((verdict) => verdict.found).length, verdicts.length);
  // A moved end moves the width as well, and a lag that differs is allowed to show only in the lag.
  const real = new Set([change.quantity, ...(change.quantity?.endsWith('Edge') ? ['windowWidth'] : [])]);
  const others = shareOf(
    verdicts.filter(({ significant }) => significant.some((quantity) => !real.has(quantity))).length,
    verdicts.length,
  );
  const all = verdicts.flatMap((verdict) => Object.values(verdict.held));
  const held: Share = shareOf(all.filter(Boolean).length, all.length);
  return {
    cells: [name, shareText(found), `${others.count}/${others.of}`, shareText(held)],
    data: { change: name, found, others, held },
  };
}
