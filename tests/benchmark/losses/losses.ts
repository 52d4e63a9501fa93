import { inParallel } from '../in-parallel.ts';
import type { Section } from '../section.ts';
import { median, shareOf, shareText, table } from '../table.ts';
import type { LossVerdict } from './judge.ts';
import { lossKinds } from './kinds.ts';

/** Sweeps of each kind. */
const usualSweeps = 40;

const count = (verdicts: readonly LossVerdict[], of: (verdict: LossVerdict) => boolean | undefined) =>
  verdicts.filter((verdict) => of(verdict) === true).length;
const held = (verdicts: readonly LossVerdict[], of: (verdict: LossVerdict) => boolean | undefined) => {
  const judged = verdicts.map(of).filter((each) => each !== undefined);
  return judged.length === 0 ? '' : `${judged.filter(Boolean).length}/${judged.length}`;
};
const sum = (verdicts: readonly LossVerdict[], of: (verdict: LossVerdict) => number) =>
  verdicts.reduce((total, verdict) => total + of(verdict), 0);
const sizes = (values: number[], digits: number) =>
  values.length === 0
    ? ''
    : `${median(values.map(Math.abs)).toFixed(digits)} (${Math.max(...values.map(Math.abs)).toFixed(digits)})`;

const heading = [
  'kind',
  'refused',
  'none',
  'prov.',
  'final',
  'outside',
  'passed',
  'low',
  'high',
  'plateau',
  'lag',
  'cause',
  'hysteresis',
  'lost off',
  'back off',
  'plateau off %',
  'excursions',
  'invented',
  'length off s',
  'lost s',
  'falsely',
  'shut s',
];

function row(kind: string, own: readonly LossVerdict[]): string[] {
  const values = (of: (verdict: LossVerdict) => number | undefined) => own.map(of).filter((each) => each !== undefined);
  const seconds = (of: (verdict: LossVerdict) => { true: number; said: number }) => {
    const all = sum(own, (verdict) => of(verdict).true);
    return all === 0 ? '' : `${sum(own, (verdict) => of(verdict).said).toFixed(0)}/${all.toFixed(0)}`;
  };
  const excursions = sum(own, (verdict) => verdict.excursions.true);
  return [
    kind,
    String(count(own, ({ refused }) => refused !== undefined)),
    ...(['none', 'provisional', 'final'] as const).map((name) =>
      String(count(own, ({ setPoint }) => setPoint === name)),
    ),
    String(count(own, ({ outside }) => outside)),
    held(own, ({ passed }) => passed),
    ...(['low', 'high', 'plateau', 'lag'] as const).map((name) => held(own, (verdict) => verdict.held[name])),
    held(own, ({ cause }) => cause),
    held(own, ({ hysteresis }) => hysteresis),
    sizes(
      values(({ lostOff }) => lostOff),
      3,
    ),
    sizes(
      values(({ backOff }) => backOff),
      3,
    ),
    sizes(
      values(({ plateauOff }) => plateauOff && 100 * plateauOff),
      1,
    ),
    excursions === 0 ? '' : `${sum(own, (verdict) => verdict.excursions.found)}/${excursions}`,
    String(sum(own, (verdict) => verdict.excursions.invented)),
    sizes(
      own.flatMap((verdict) => verdict.excursions.lengthOff),
      1,
    ),
    seconds(({ lostS }) => lostS),
    sum(own, ({ lostS }) => lostS.falsely).toFixed(1),
    seconds(({ shutS }) => shutS),
  ];
}

/** What the analysis makes of a flame that goes out, and of a detector that blanks itself, on sweeps whose truth is known. */
export const losses: Section = {
  name: 'losses',
  title: 'Lost flames, drop-outs and self-checking shutters: what is said of them, and what they do to the window',
  async run({ sweeps = usualSweeps, seed, kinds, progress }) {
    const drawn = lossKinds.filter((kind) => !kinds || kinds.includes(kind));
    const tasks = drawn.flatMap((kind) => Array.from({ length: sweeps }, (_, i) => ({ kind, seed: seed + i })));
    const verdicts = await inParallel<LossVerdict>(new URL('judge.ts', import.meta.url), tasks, (done, of) =>
      progress(`${done} of ${of} sweeps`),
    );
    const passed = count(verdicts, (verdict) => verdict.passed);
    const missed = sum(verdicts, ({ excursions }) => excursions.true - excursions.found);
    const hysteresis = verdicts.map((verdict) => verdict.hysteresis).filter((each) => each !== undefined);
    const right = shareOf(hysteresis.filter(Boolean).length, hysteresis.length);
    return {
      lines: [
        `${verdicts.length} sweeps by hand, seeds ${seed} to ${seed + sweeps - 1} of each kind; truth from the definitions.`,
        'None, provisional, final: the set point; outside: of the true window, or where the flame drops out. Passed: as left between loss and return.',
        'Low to lag: intervals that hold the truth. Off: median and largest error. Lost, shut: seconds of it that the phases say, of all; falsely: said of others.',
        '',
        ...table([
          heading,
          ...drawn.map((kind) =>
            row(
              kind,
              verdicts.filter((verdict) => verdict.kind === kind),
            ),
          ),
        ]),
        '',
        `Median time of one analysis: ${median(verdicts.map(({ ms }) => ms)).toFixed(0)} ms`,
      ],
      data: { firstSeed: seed, sweeps, verdicts },
      figures: [
        {
          what: 'as left between loss and return of the flame, passed',
          wanted: 'none',
          found: String(passed),
          met: passed === 0,
        },
        {
          what: 'excursions at good pressures that are not listed',
          wanted: 'none',
          found: String(missed),
          met: missed === 0,
        },
        {
          what: 'losses after which the flame came back by itself, and no others, are said',
          wanted: '95 %',
          found: shareText(right),
          met: right.share >= 0.95,
        },
      ],
    };
  },
};
