import { describe, expect, it } from 'vitest';
import type { Mark, MarkKind } from '../../shared/model/capture.ts';
import { isSweeping, sweepsOf, trialSpansOf } from '../../shared/model/sweeps.ts';

const mark = (elapsedS: number, kind: MarkKind, text = ''): Mark => ({ elapsedS, kind, text });
const whole = (fromS: number, toS: number) => ({ fromS, toS, isVoid: false });
const discarded = (fromS: number, toS: number, reason: string) => ({ fromS, toS, isVoid: true, reason });

describe('discarding', () => {
  // One sweep was ended by beginning the next: the end of the first and the start of the second are at the same time.
  const two = [mark(1, 'sweep-start'), mark(5, 'sweep-end'), mark(5, 'sweep-start'), mark(9, 'sweep-end')];

  it('takes the sweep that began before the mark, not the one that begins with it', () => {
    expect(sweepsOf([...two, mark(5, 'sweep-void', 'slipped')])).toEqual([discarded(1, 5, 'slipped'), whole(5, 9)]);
    expect(sweepsOf([...two, mark(9, 'sweep-void', 'slipped')])).toEqual([whole(1, 5), discarded(5, 9, 'slipped')]);
  });

  it('of an earlier sweep does not end the one that is running', () => {
    const running = [...two.slice(0, 3), mark(5, 'sweep-void', 'slipped')];
    expect(sweepsOf(running)).toEqual([discarded(1, 5, 'slipped'), whole(5, Infinity)]);
    expect(isSweeping(running)).toBe(true);
    expect(isSweeping(two)).toBe(false);
    expect(isSweeping([])).toBe(false);
  });
});

it('trials run from each start to the next end, the last one on while it lasts', () => {
  const marks = [mark(30, 'trial-start'), mark(12, 'trial-end'), mark(10, 'trial-start'), mark(11, 'trial-start')];
  expect(trialSpansOf(marks)).toEqual([
    { fromS: 10, toS: 12 },
    { fromS: 30, toS: Infinity },
  ]);
  expect(trialSpansOf([mark(1, 'trial-end')])).toEqual([]);
});

describe('the sweeps of a capture', () => {
  it('run from each start to the next end, whatever the order of the marks; one without an end lasts', () => {
    const marks = [mark(30, 'sweep-start'), mark(10, 'sweep-start'), mark(20, 'sweep-end'), mark(15, 'note')];
    expect(sweepsOf(marks)).toEqual([whole(10, 20), whole(30, Infinity)]);
    expect(sweepsOf([])).toEqual([]);
  });

  it('take no start inside a sweep and no end outside one', () => {
    const marks = [mark(1, 'sweep-end'), mark(2, 'sweep-start'), mark(3, 'sweep-start'), mark(4, 'sweep-end')];
    expect(sweepsOf(marks)).toEqual([whole(2, 4)]);
  });

  it('are discarded by a mark that ends them', () => {
    const marks = [mark(1, 'sweep-start'), mark(5, 'sweep-void', 'turned too fast'), mark(6, 'sweep-start')];
    expect(sweepsOf(marks)).toEqual([discarded(1, 5, 'turned too fast'), whole(6, Infinity)]);
  });

  it('are discarded by a mark that follows their end; earlier ones stay', () => {
    const marks = [
      mark(1, 'sweep-start'),
      mark(2, 'sweep-end'),
      mark(3, 'sweep-start'),
      mark(4, 'sweep-end'),
      mark(9, 'sweep-void', 'probe fell off'),
      mark(10, 'sweep-start'),
      mark(11, 'sweep-end'),
    ];
    expect(sweepsOf(marks)).toEqual([whole(1, 2), discarded(3, 4, 'probe fell off'), whole(10, 11)]);
  });

  it('a mark before the first discards nothing', () => {
    expect(sweepsOf([mark(0, 'sweep-void', 'x'), mark(1, 'sweep-start'), mark(2, 'sweep-end')])).toEqual([whole(1, 2)]);
  });
});
