import { inParallel } from '../in-parallel.ts';
import type { BenchmarkOptions, Section, SectionResult } from '../section.ts';
import { percent, shareOf, shareText, table } from '../table.ts';
import type { CaseTask } from './judge-case.ts';
import type { CaseVerdict } from './kind.ts';
import { kinds } from './kinds/kinds.ts';

const casesOfEach = 40;
/** So many wrong answers of a kind are listed. */
const listed = 5;

export const meters: Section = {
  name: 'meters',
  title: 'Meters that mislead: frozen, damped, drifting, clocks apart, typed by hand',
  run,
};

async function run({ sweeps, seed, kinds: wanted, progress }: BenchmarkOptions): Promise<SectionResult> {
  const chosen = kinds.filter(({ name }) => !wanted || wanted.includes(name));
  const tasks = chosen.flatMap(({ name }) =>
    Array.from({ length: sweeps ?? casesOfEach }, (_, i): CaseTask => ({ kind: name, seed: seed + i })),
  );
  const verdicts = await inParallel<CaseTask & CaseVerdict>(
    new URL('judge-case.ts', import.meta.url),
    tasks,
    (count, of) => progress(`${count} of ${of} cases`),
  );
  const rows = chosen.map((kind) => {
    const own = verdicts.filter((verdict) => verdict.kind === kind.name);
    const wrong = own.filter(({ good }) => !good);
    return { kind, wrong, right: shareOf(own.length - wrong.length, own.length) };
  });
  return {
    lines: [
      `${sweeps ?? casesOfEach} cases of each kind, first seed ${seed}.`,
      ...table([
        ['kind', 'wanted', 'right'],
        ...rows.map(({ kind, right }) => [kind.name, kind.wanted, shareText(right)]),
      ]),
      ...rows.flatMap(({ kind, wrong }) =>
        wrong.slice(0, listed).map(({ seed, found }) => `  ${kind.name} ${seed}: ${found}`),
      ),
    ],
    data: { kinds: rows.map(({ kind, right, wrong }) => ({ kind: kind.name, right, wrong })) },
    figures: rows.map(({ kind, right }) => ({
      what: kind.name,
      wanted: `${kind.wanted} in ${percent(kind.least)} %`,
      found: shareText(right),
      met: right.of === 0 ? undefined : right.share >= kind.least,
    })),
  };
}
