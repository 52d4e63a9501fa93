import { expect, it } from 'vitest';
import { run } from '../benchmark/visit-answers/judge-answer.ts';

// Each of these visits of the independent generator had a wrong answer once; what was wrong stands beside it.
it.each([
  ['lost, clipped signal', 911, 'high', 'the fall of a lost flame became a shoulder behind the clip'],
  ['lost, clipped signal', 921, 'low', 'and took the low end with it, so that it was not reached'],
  ['clipped signal', 914, 'low', 'a clip that was not seen gave a lag of 2 s'],
  ['fast meters', 911, 'low', 'the last search ended at a lag of 8 s, and its pressures where gas was shut'],
  ['slow meters', 1162, 'low', 'the highest level of a curve that followed noise required too much'],
  ['fan off before the start', 1161, 'low', 'and so it did where the curve was corrected by 2 % of the plateau'],
] as const)('%s, seed %d: the right status, the %s end held: %s', (kind, seed, side, _was) => {
  const { wrongStatus, judged } = run({ kind, seed });
  expect(wrongStatus).toBeUndefined();
  expect(judged[side]?.held).toBe(true);
});

it.each([
  ['signal meter frozen', 942, 'a low end between the last reading and the ones before it, all of them good'],
  ['lost, shut by control', 941, 'a valve that shut two seconds after the loss made the loss doubtful'],
  ['lost twice', 1062, 'lost beyond the crossing, twice, and the low end was not reached'],
  ['lost rich, back by itself', 1063, 'lost beyond the crossing, and the high end was not reached'],
  ['lost rich, back by itself', 1065, 'lost at the highest pressure of all, and the high end was not reached'],
  ['lost while sparking', 1061, 'a first lag of 5 s put the flame where gas was shut, so that its loss was a drop-out'],
  ['lost, clipped signal', 1065, 'a lag of 3 s put the flame that came back below where it was lost'],
  ['blown out while at rest', 1065, 'a loss before the sweep began ended the window'],
  ['blown out while at rest', 1046, 'lost after a rest at 3.51 inH2O that it burned well below, and called an end'],
  ['blown out while at rest', 1074, 'a manometer at rest to its last digit was frozen because the flame was lost'],
  ['lost, slow detector', 1066, 'no flame at all, and a window of 0.02 to 0.03 inH2O'],
  ['gusts', 1064, 'a fall that the states call a burning flame was fitted as a loss'],
  ['steady with gusts', 1042, 'a gust at the last pressure of all became a cliff'],
  ['signal meter frozen, flame lost', 1044, 'a meter frozen at its highest number passed for a clipped signal'],
] as const)('%s, seed %d: the right status: %s', (kind, seed, _was) => {
  expect(run({ kind, seed }).wrongStatus).toBeUndefined();
});

it('steady with self-checks, seed 941: no end in the dark before the first flame', () => {
  expect(run({ kind: 'steady with self-checks', seed: 941 })).toMatchObject({ refused: 'one-pressure' });
});

it('lost while sparking, seed 1123: no set point outside by a correction of the curve that follows the sparks after the loss', () => {
  expect(run({ kind: 'lost while sparking', seed: 1123 }).outside).toBeUndefined();
});

it('holds the true ends where the free curve gives them, in as many of its 95 % intervals as chance explains', () => {
  // The first six visits from seed 1161 on in which it does; its intervals once held eight of their twelve ends.
  const visits = [
    ['plain', 1162],
    ['overshoot and back', 1161],
    ['fast sweep', 1161],
    ['lost lean, back by itself', 1161],
    ['lost, relit by spark', 1163],
    ['lost, shut by control', 1161],
  ] as const;
  const held = visits.flatMap(([kind, seed]) => {
    const { low, high } = run({ kind, seed }).judged;
    return [low!.held, high!.held];
  });
  expect(held).toHaveLength(12);
  // Nine or fewer of twelve have a chance of 1 in 50 when 95 in 100 hold (binomial).
  expect(held.filter(Boolean).length).toBeGreaterThanOrEqual(10);
}, 60_000);
