import { describe, expect, it } from 'vitest';
import { createFlameMemory } from '../../shared/burner-state/flame-memory.ts';
import { follow, readingsOf, towards } from './story.ts';

const remembered = (...steps: [isShut: boolean, isProved: boolean, times: number][]) => {
  const memory = createFlameMemory();
  for (const [isShut, isProved, times] of steps) for (let i = 0; i < times; i += 1) memory.step({ isShut, isProved });
  return memory.burned();
};

describe('whether a flame burned since gas was shut', () => {
  it('is forgotten once gas is shut for a second, not for tenths of one', () => {
    expect(remembered([false, true, 20], [false, false, 20])).toBe(true);
    expect(remembered([false, true, 20], [true, false, 9], [false, false, 5])).toBe(true);
    expect(remembered([false, true, 20], [true, false, 10])).toBe(false);
  });
  it('is not made of a peak of noise', () => {
    expect(remembered([false, true, 2], [false, false, 1], [false, true, 2])).toBe(false);
    expect(remembered([false, true, 3])).toBe(true);
  });
});

// Turned down by 1 inH2O a second to 0.2, the fan's pressure of 0 not entered; the flame goes out on the way, at 0.7 inH2O.
it('a pilot that is turned down fast and goes out, gas still flowing, raises the alarm', () => {
  const turned = (t: number) => (t < 40 ? towards(0, 2, 0.15, t, 10) : Math.max(0.2, 2 - (t - 40)));
  const goesOutS = 41.3;
  const signal = (t: number) => (t < goesOutS ? towards(0.02, 5, 0.3, t, 11) : towards(5, 0.02, 0.3, t, goesOutS));
  const told = follow(readingsOf({ seconds: 70, pressure: turned, signal }), 70);
  expect(told.some(({ alarm, nowS }) => alarm === 'flame-lost' && nowS < goesOutS + 8)).toBe(true);
});
