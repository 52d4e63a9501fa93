import { describe, expect, it } from 'vitest';
import { kinds } from '../../benchmark/meters/kinds/kinds.ts';

/** Cases of the generator `tests/benchmark/meters`; over forty seeds of each they are measured by `npm run bench`. */
const judged = (name: string, seed: number) => kinds.find((kind) => kind.name === name)!.judge(seed);

describe('what misleads a comparison', () => {
  it.each([
    ['compare: cold detector at one visit', 6],
    ['compare: damped manometer at one visit', 1],
    ['compare: damped manometer at one visit', 4],
    ['compare: noise 2.5 times larger', 2],
    ['compare: noise 2.5 times larger', 6],
    ['compare: noise as before', 1],
  ])('%s, seed %i', (name, seed) => {
    expect(judged(name, seed)).toMatchObject({ good: true });
  });
});
