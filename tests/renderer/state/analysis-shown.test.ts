import { expect, it } from 'vitest';
import { currentAnalysis } from '../../../renderer/state/current-analysis.ts';

it('an analysis that was refused the last time leaves no earlier answer in view', () => {
  // The only sweep was discarded: the query still has what it found before.
  expect(currentAnalysis({ data: 'before', error: new Error('no sweep') })).toBeUndefined();
  expect(currentAnalysis({ data: 'now', error: null })).toBe('now');
});
