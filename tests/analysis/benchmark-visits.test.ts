import { expect, it } from 'vitest';
import { run } from '../benchmark/visit-answers/judge-answer.ts';

// Each of these visits of the independent generator had a wrong answer once; what was wrong stands beside it.
it.each([
  ['lost, clipped signal', 911, 'high', 'the fall of a lost flame became a shoulder behind the clip'],
  ['lost, clipped signal', 921, 'low', 'and took the low end with it, so that it was not reached'],
  ['clipped signal', 914, 'low', 'a clip that was not seen gave a lag of 2 s'],
  ['fast meters', 911, 'low', 'the last search ended at a lag of 8 s, and its pressures where gas was shut'],
] as const)('%s, seed %d: the right status, the %s end held: %s', (kind, seed, side, _was) => {
  const { wrongStatus, judged } = run({ kind, seed });
  expect(wrongStatus).toBeUndefined();
  expect(judged[side]?.held).toBe(true);
});

it.each([
  ['signal meter frozen', 942, 'a low end between the last reading and the ones before it, all of them good'],
  ['lost, shut by control', 941, 'a valve that shut two seconds after the loss made the loss doubtful'],
] as const)('%s, seed %d: the right status: %s', (kind, seed, _was) => {
  expect(run({ kind, seed }).wrongStatus).toBeUndefined();
});

it('steady with self-checks, seed 941: no end in the dark before the first flame', () => {
  expect(run({ kind: 'steady with self-checks', seed: 941 })).toMatchObject({ refused: 'one-pressure' });
});
