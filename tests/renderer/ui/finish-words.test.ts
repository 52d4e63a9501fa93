import { expect, it } from 'vitest';
import { visitDoubts } from '../../../renderer/ui/visit/finish-words.ts';
import type { CaptureView } from '../../../shared/contract/api.ts';
import { openEnds } from '../../../shared/model/trials/unjudged-trials.ts';

const mark = (elapsedS: number, kind: CaptureView['marks'][number]['kind'], text = '') => ({ elapsedS, kind, text });
const complete = [mark(1, 'as-found'), mark(2, 'sweep-start'), mark(90, 'sweep-end'), mark(300, 'as-left')];
const trial = { pressure: 2.4, unit: 'inH2O', sparkDelayS: 0, lit: true, elapsedS: 120 };
const capture = (marks: object[], trials: object[] = [trial]) =>
  ({ status: 'recording', marks, trials, setup: {} }) as unknown as CaptureView;
const asLeft = (decision: string) =>
  ({ pressureUnit: 'inH2O', asLeft: { value: 2.4, decision, marginLow: 1, marginHigh: 1 } }) as never;

/** What must not be forgotten at the end of a visit: what is missing, a trial that nobody has judged, a setting that does not pass. */
it('a visit with everything in it leaves nothing to say', () =>
  expect(visitDoubts(capture(complete), asLeft('pass'))).toEqual([]));

it('names what was not recorded, a discarded sweep among it', () => {
  const marks = [mark(2, 'sweep-start'), mark(90, 'sweep-end'), mark(91, 'sweep-void', 'wrong burner')];
  expect(visitDoubts(capture(marks, []), undefined)).toEqual([
    'Not recorded: as-found, sweep, light-off trials, as-left.',
  ]);
});

it('names each trial without a result, also one that another one follows', () => {
  const marks = [...complete, mark(200, 'trial-start'), mark(205, 'trial-end', openEnds.interrupted)];
  expect(visitDoubts(capture(marks), asLeft('pass'))).toEqual([
    'Not judged: the trial at 3:20.0. Enter its result or discard it under Light-off.',
  ]);
});

it.each(['conditional-pass', 'conditional-fail', 'fail'])('names an as-left that does not pass: %s', (decision) => {
  const [said, ...more] = visitDoubts(capture(complete), asLeft(decision));
  expect(more).toEqual([]);
  expect(said).toMatch(/^As-left 2\.40 inH2O: (Conditional pass|Conditional fail|Fail)\. It is /u);
});

it('tells a decision that the readings do not give from one that was not calculated', () => {
  const withoutDecision = { pressureUnit: 'inH2O' } as never;
  expect(visitDoubts(capture(complete), withoutDecision)).toEqual(['There is no decision on the as-left pressure.']);
  expect(visitDoubts(capture(complete), undefined)).toEqual([
    'The decision on the as-left pressure was not calculated.',
  ]);
  expect(visitDoubts(capture(complete), undefined, 'Its process ended twice.')).toEqual([
    'The decision on the as-left pressure was not calculated. Its process ended twice.',
  ]);
});
