import { describe, expect, it } from 'vitest';
import { replacedBy, validTrials } from '../../../shared/model/trials/valid-trials.ts';

interface Entry {
  name: string;
  corrects?: number;
  status?: 'valid' | 'void';
}
const counted = (...entries: Entry[]) => validTrials(entries).map(({ name }) => name);

describe('the trials that count', () => {
  it('are all where nothing was corrected, in their order', () => {
    expect(counted({ name: 'a' }, { name: 'b', status: 'valid' }, { name: 'c' })).toEqual(['a', 'b', 'c']);
    expect(counted()).toEqual([]);
  });

  it('take a correction instead of what it corrects, in its place: a row of successes depends on the order', () => {
    expect(counted({ name: 'a' }, { name: 'b' }, { name: 'a again', corrects: 1 })).toEqual(['a again', 'b']);
  });

  it('follow a correction of a correction to the last', () => {
    const entries = [{ name: 'a' }, { name: 'b', corrects: 1 }, { name: 'c' }, { name: 'd', corrects: 2 }];
    expect(counted(...entries)).toEqual(['d', 'c']);
    expect(replacedBy(entries)).toEqual([2, 4, undefined, undefined]);
  });

  it('count one trial once, even where two entries correct the same one', () => {
    expect(counted({ name: 'a' }, { name: 'b', corrects: 1 }, { name: 'c', corrects: 1 })).toEqual(['c']);
  });

  it('leave out what was discarded, and take it again when that was corrected', () => {
    const discarded: Entry[] = [{ name: 'a' }, { name: 'b' }, { name: 'a void', corrects: 1, status: 'void' }];
    expect(counted(...discarded)).toEqual(['b']);
    expect(counted(...discarded, { name: 'a after all', corrects: 3 })).toEqual(['a after all', 'b']);
    expect(counted({ name: 'a', status: 'void' })).toEqual([]);
  });

  it('do not fall to an entry that names itself, a later one or none', () => {
    expect(counted({ name: 'a', corrects: 1 }, { name: 'b', corrects: 3 }, { name: 'c' })).toEqual(['a', 'b', 'c']);
  });
});
