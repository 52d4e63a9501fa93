import { describe, expect, it } from 'vitest';
import type { Mark, MarkKind, Trial } from '../../../shared/model/capture.ts';
import { openEnds, unjudgedTrials } from '../../../shared/model/trials/unjudged-trials.ts';

const mark = (elapsedS: number, kind: MarkKind, text = ''): Mark => ({ elapsedS, kind, text });
const trial = (elapsedS: number | undefined, more: Partial<Trial> = {}): Trial => ({
  pressure: 2,
  unit: 'inH2O',
  lit: true,
  ...(elapsedS !== undefined && { elapsedS }),
  ...more,
});
const cut = [mark(20, 'trial-start'), mark(26, 'trial-end', openEnds.interrupted)];

describe('trials that were never judged', () => {
  it('are those that the recording broke off, and those of which no result was entered', () => {
    const marks = [
      ...cut,
      mark(50, 'trial-start'),
      mark(58, 'trial-end', 'lit'),
      mark(90, 'trial-start'),
      mark(95, 'trial-end', openEnds.noResult),
      mark(120, 'trial-start'),
      mark(124, 'trial-end', 'cancelled'),
    ];
    expect(unjudgedTrials(marks, [trial(50)])).toEqual([
      { fromS: 20, toS: 26 },
      { fromS: 90, toS: 95 },
    ]);
  });
  it('are judged once an entry is about them, valid or void; an entry of another time is not', () => {
    expect(unjudgedTrials(cut, [trial(20)])).toEqual([]);
    expect(unjudgedTrials(cut, [trial(20, { status: 'void', lit: false })])).toEqual([]);
    // The first reading with gas comes before the tracker is sure.
    expect(unjudgedTrials(cut, [trial(19.4)])).toEqual([]);
    expect(unjudgedTrials(cut, [trial(40), trial(undefined)])).toHaveLength(1);
  });
  it('are not judged by the entry of the next, whose gas ended them', () => {
    const marks = [
      mark(20, 'trial-start'),
      mark(50, 'trial-end', openEnds.noResult),
      mark(50, 'trial-start'),
      mark(60, 'trial-end', 'lit'),
    ];
    expect(unjudgedTrials(marks, [trial(49.4)])).toEqual([{ fromS: 20, toS: 50 }]);
    expect(unjudgedTrials(marks, [trial(20), trial(49.4)])).toEqual([]);
  });
  it('is not the one that runs now, which without an end was cut short where none runs', () => {
    const open = [mark(20, 'trial-start'), mark(27, 'note')];
    expect(unjudgedTrials(open, [], true)).toEqual([]);
    expect(unjudgedTrials(open, [])).toEqual([{ fromS: 20, toS: 27 }]);
  });
});
