import { describe, expect, it } from 'vitest';
import { createRandom } from '../../shared/numerics/random.ts';
import { at, follow, openedAt10, readingsOf, towards } from './story.ts';

describe('a signal that rises and falls again before a flame has burned', () => {
  it('raises no alarm where a self-check closes the shutter while the signal builds up', () => {
    const seconds = 60;
    // The detector looks through a shutter that is closed from 11.5 to 12.2 s, behind a lag of 0.6 s.
    const atClosing = towards(0.02, 5, 0.6, 11.5, 11);
    const atOpening = towards(atClosing, 0.02, 0.6, 12.2, 11.5);
    const signal = (t: number) => {
      if (t < 11.5) return towards(0.02, 5, 0.6, t, 11);
      return t < 12.2 ? towards(atClosing, 0.02, 0.6, t, 11.5) : towards(atOpening, 5, 0.6, t, 12.2);
    };
    const told = follow(readingsOf({ seconds, pressure: openedAt10, signal }), seconds);
    expect(told.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
    expect(at(told, 30).now.moment.flame).toBe('burning');
  });

  it.each([1, 2, 3, 4, 5])('is no lost flame where a noisy signal wanders while gas is shut, run %d', (seed) => {
    const seconds = 60;
    const random = createRandom(seed);
    const wander = Float64Array.from({ length: seconds * 10 + 2 }, () => 0);
    // First-order noise behind a lag of half a second, standard deviation 0.3 V: a fifteenth of the flame's signal.
    for (let i = 1; i < wander.length; i += 1)
      wander[i] = 0.82 * wander[i - 1]! + 0.3 * Math.sqrt(1 - 0.82 ** 2) * random.normal();
    const told = follow(
      readingsOf({ seconds, pressure: () => 0.26, signal: (t) => wander[Math.round(t * 10)]! }),
      seconds,
    );
    expect(told.filter(({ alarm }) => alarm === 'flame-lost')).toEqual([]);
  });

  it('is told at the end of the trial for ignition at the latest, where gas flows on', () => {
    const seconds = 60;
    // A flame that shows a fifth of what it has to for a second, and is gone.
    const signal = (t: number) => (t < 12 ? towards(0.02, 1, 0.6, t, 11) : towards(0.83, 0.02, 0.6, t, 12));
    const told = follow(readingsOf({ seconds, pressure: openedAt10, signal }), seconds);
    const first = told.find(({ alarm }) => alarm !== undefined)!;
    expect(first.nowS).toBeLessThan(10 + 10 + 1.5);
  });

  it('sounds at once where the flame burned, be it for seconds', () => {
    const seconds = 60;
    const signal = (t: number) => (t < 15 ? towards(0.02, 5, 0.6, t, 11) : towards(5, 0.02, 0.6, t, 15));
    const told = follow(readingsOf({ seconds, pressure: openedAt10, signal }), seconds);
    const first = told.find(({ alarm }) => alarm !== undefined)!;
    expect(first.alarm).toBe('flame-lost');
    expect(first.nowS).toBeLessThan(15 + 2);
  });
});
