import { describe, expect, it } from 'vitest';
import { createFlameMemory } from '../../shared/burner-state/flame-memory.ts';
import { follow, readingsOf, towards } from './story.ts';

type Kind = 'shut' | 'dark' | 'burning' | 'low' | 'above' | 'clear';
/** Signals of a flame that is proved at 2 V, with noise of 0.1 V. */
const signals: Record<Kind, number> = { shut: 0, dark: 0, burning: 5, low: 1.9, above: 2.1, clear: 2.4 };

const remembered = (...steps: [kind: Kind, times: number][]) => {
  const memory = createFlameMemory();
  for (const [kind, times] of steps)
    for (let i = 0; i < times; i += 1)
      memory.step({
        isShut: kind === 'shut',
        flame: kind === 'burning' || kind === 'dark' ? kind : kind === 'shut' ? 'out' : 'lighting',
        signal: signals[kind],
        provingSignal: 2,
        noise: 0.1,
      });
  return memory.burned();
};

describe('whether a flame burned since gas was shut', () => {
  it('is forgotten once gas is shut for a second, not for tenths of one', () => {
    expect(remembered(['burning', 20], ['dark', 20])).toBe(true);
    expect(remembered(['burning', 20], ['shut', 9], ['dark', 5])).toBe(true);
    expect(remembered(['burning', 20], ['shut', 10])).toBe(false);
  });
  it('is not made of a peak of noise', () => {
    expect(remembered(['burning', 2], ['dark', 1], ['burning', 2])).toBe(false);
    expect(remembered(['burning', 3])).toBe(true);
    expect(remembered(['low', 5], ['above', 2], ['low', 5])).toBe(false);
    expect(remembered(['dark', 5], ['clear', 2], ['dark', 5])).toBe(false);
  });
  it('takes one step that is clear of the noise, where the signal built up to it', () => {
    expect(remembered(['low', 2], ['clear', 1], ['low', 1])).toBe(true);
    expect(remembered(['low', 20])).toBe(false);
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
