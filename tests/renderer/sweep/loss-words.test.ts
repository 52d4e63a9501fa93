import { expect, it } from 'vitest';
import { lossWords } from '../../../renderer/sweep/loss-words.ts';

it('a sweep says how often and when the flame was lost in it, and nothing of losses before and after', () => {
  const lost = (elapsedS: number) => ({ kind: 'flame-lost' as const, elapsedS, text: '' });
  const marks = [lost(10), lost(75.8), lost(127.6), { kind: 'gas-unlit' as const, elapsedS: 90, text: '' }, lost(300)];
  expect(lossWords(marks, { fromS: 27, toS: 221 })).toBe('2 times, with gas on: at 1:15.8, 2:07.6');
  expect(lossWords(marks, { fromS: 250, toS: Infinity })).toBe('once, with gas on: at 5:00.0');
  expect(lossWords(marks, { fromS: 130, toS: 250 })).toBe('never');
});
