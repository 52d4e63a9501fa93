import { describe, expect, it } from 'vitest';
import {
  isLit,
  isProvedBeforeSpark,
  judgedTrials,
  replacedBy,
  validTrials,
} from '../../../shared/model/trials/valid-trials.ts';

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

describe('a trial for ignition of 10 s', () => {
  const judged = (trial: { sparkDelayS?: number; timeToProveS?: number; timeToProveFromSparkS?: number }) =>
    judgedTrials([{ pressure: 2.4, unit: 'inH2O', lit: true, ...trial }], { pilotTrialSeconds: 10 })[0]!;
  it.each([
    [{ timeToProveS: 10 }, true],
    [{ timeToProveS: 10.1 }, false],
    [{ sparkDelayS: 0, timeToProveFromSparkS: 9 }, true],
    [{ sparkDelayS: 0, timeToProveFromSparkS: 12 }, false],
    [{ sparkDelayS: 5, timeToProveFromSparkS: 5 }, true],
    [{ sparkDelayS: 5, timeToProveFromSparkS: 6 }, false],
    // No flame is proved before its spark.
    [{ sparkDelayS: 12 }, false],
    [{ sparkDelayS: 10 }, false],
    [{ sparkDelayS: 9.9 }, true],
  ])('with %o counts as lit: %s', (trial, lit) => {
    expect(isLit({ lit: true, ...trial }, 10)).toBe(lit);
    expect(judged(trial).lit).toBe(lit);
  });
  it('whose flame was proved before its spark has a wrong time', () => {
    expect(isProvedBeforeSpark({ sparkDelayS: 5, timeToProveS: 3 })).toBe(true);
    expect(isProvedBeforeSpark({ sparkDelayS: 5, timeToProveS: 5.6 })).toBe(false);
    expect(isProvedBeforeSpark({ timeToProveS: 3 })).toBe(false);
  });
});
