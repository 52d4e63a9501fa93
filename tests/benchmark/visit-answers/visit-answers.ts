import { inParallel } from '../in-parallel.ts';
import type { Section } from '../section.ts';
import { median, shareOf, shareText, table } from '../table.ts';
import { visitKinds } from '../visit/visit.ts';
import { atMost, rejectedByHolm } from './holm.ts';
import { type AnswerVerdict, type IntervalName, intervalNames } from './judge-answer.ts';

/** Visits of each kind: more than five hundred in all. */
const usualVisits = 6;
/** Of the intervals, and of the statement that a kind holds the truth more rarely than that. */
const confidence = 0.95;

const heldIn = (verdicts: readonly AnswerVerdict[]) =>
  verdicts.flatMap(({ judged }) => Object.values(judged).map(({ held }) => held));
const heldOf = (verdicts: readonly AnswerVerdict[], name: IntervalName) =>
  verdicts.flatMap(({ judged }) => judged[name]?.held ?? []);
const heldShare = (held: readonly boolean[]) => shareOf(held.filter(Boolean).length, held.length);
const count = (verdicts: readonly AnswerVerdict[], of: (verdict: AnswerVerdict) => boolean) =>
  verdicts.filter(of).length;

/** How right and how sure the analysis is on whole visits whose truth is known. */
export const visitAnswers: Section = {
  name: 'visits',
  title: 'The answers to whole visits: set point, status, and how often the 95 % intervals hold the truth',
  async run({ sweeps, seed, kinds, progress }) {
    const visits = sweeps ?? usualVisits;
    const drawn = visitKinds.filter((kind) => !kinds || kinds.includes(kind));
    const tasks = drawn.flatMap((kind) => Array.from({ length: visits }, (_, i) => ({ kind, seed: seed + i })));
    const verdicts = await inParallel<AnswerVerdict>(new URL('judge-answer.ts', import.meta.url), tasks, (done, of) =>
      progress(`${done} of ${of} visits`),
    );
    const answered = verdicts.filter(({ refused }) => refused === undefined);
    const perKind = drawn.map((kind) => verdicts.filter((verdict) => verdict.kind === kind));
    const tooRarely = rejectedByHolm(
      perKind.map((own) => {
        const { count: held, of } = heldShare(heldIn(own));
        return of === 0 ? 1 : atMost(held, of, confidence);
      }),
      1 - confidence,
    );
    const rows = perKind.map((own, k) => [
      drawn[k]!,
      String(count(own, ({ refused }) => refused !== undefined)),
      String(count(own, ({ wrongStatus }) => wrongStatus !== undefined)),
      ...(['none', 'provisional', 'warned', 'confident'] as const).map((name) =>
        String(count(own, ({ setPoint }) => setPoint === name)),
      ),
      String(count(own, ({ outside }) => outside !== undefined)),
      ...intervalNames.map((name) => shareText(heldShare(heldOf(own, name)))),
      tooRarely[k] ? '<' : ' ',
    ]);
    const looked = (title: string, of: (verdict: AnswerVerdict) => string | undefined) =>
      verdicts.flatMap((verdict) =>
        of(verdict) === undefined ? [] : [`${title}: ${verdict.kind} ${verdict.seed}: ${of(verdict)}`],
      );
    const confidentOutside = looked('Confident and outside', (verdict) =>
      verdict.setPoint === 'confident' ? verdict.outside : undefined,
    );
    const wrongStatus = looked('Wrong status', ({ wrongStatus: wrong }) => wrong);
    const pooled = heldShare(heldIn(verdicts));
    const rare = drawn.filter((_, k) => tooRarely[k]);
    return {
      lines: [
        `${verdicts.length} visits, seeds ${seed} to ${seed + visits - 1} of each kind; truth from the definitions. ${answered.length} answered, the others refused.`,
        'Status: either is right where an observer who knows curve, lag and noise could not tell whether an end was reached (99 of 100).',
        'Outside: set points, not provisional, outside the true window, warned of or not. <: intervals hold more rarely than chance explains (Holm).',
        '',
        ...table([
          [
            'kind',
            'refused',
            'wrong status',
            'no set point',
            'provisional',
            'warned',
            'confident',
            'outside',
            ...intervalNames,
            ' ',
          ],
          ...rows,
        ]),
        '',
        ...intervalNames.map((name) => `${name}: ${shareText(heldShare(heldOf(verdicts, name)))}`),
        `Median time of one analysis: ${median(verdicts.map(({ ms }) => ms)).toFixed(0)} ms`,
        '',
        ...confidentOutside,
        ...looked('Warned and outside', (verdict) => (verdict.setPoint === 'warned' ? verdict.outside : undefined)),
        ...wrongStatus,
      ],
      data: { firstSeed: seed, visits, verdicts },
      figures: [
        {
          what: 'confident set points outside the true window',
          wanted: 'none',
          found: `${confidentOutside.length} of ${count(verdicts, ({ setPoint }) => setPoint === 'confident')}`,
          met: confidentOutside.length === 0,
        },
        {
          what: 'visits with a wrong status',
          wanted: 'under 1 %',
          found: `${wrongStatus.length} of ${answered.length}`,
          met: wrongStatus.length < answered.length / 100,
        },
        {
          what: 'intervals of whole visits that hold the truth',
          wanted: '94 to 97 %',
          found: shareText(pooled),
          met: pooled.share >= 0.94 && pooled.share <= 0.97,
        },
        {
          what: 'kinds of visits whose intervals hold it too rarely',
          wanted: 'none',
          found: rare.join(', ') || 'none',
          met: rare.length === 0,
        },
      ],
    };
  },
};
