import { describe, expect, it } from 'vitest';
import { follow, litAt11, openedAt10, readingsOf, type Story, towards } from './story.ts';

/** Lit at 11 s; nobody watches from 30 to 75 s, as when the program was killed and started again. */
const unwatched = (signal: (t: number) => number, pressure = openedAt10): Story => ({
  seconds: 100,
  pressure: (t) => (t > 30 && t < 75 ? undefined : pressure(t)),
  signal: (t) => (t > 30 && t < 75 ? undefined : signal(t)),
});
const told = (story: Story) => follow(readingsOf(story), story.seconds).filter(({ nowS }) => nowS > 76);

describe('what the meters show after a time in which nobody watched a burning pilot', () => {
  it('is a lost flame where gas is on and nothing burns: it sounds at once, not after the trial time', () => {
    const first = told(unwatched((t) => towards(litAt11(t), 0.02, 0.6, t, 50))).find(({ alarm }) => alarm);
    expect(first?.alarm).toBe('flame-lost');
    expect(first!.nowS).toBeLessThan(77.5);
    // How long gas has flowed unlit nobody knows.
    expect(first!.raised).toMatchObject({ isLeast: true });
  });
  it('is no alarm where it burns on', () => {
    expect(told(unwatched(litAt11)).some(({ alarm }) => alarm)).toBe(false);
  });
  it('is no alarm where gas is shut, nor where it comes on again for a trial', () => {
    const shut = unwatched(
      (t) => (t < 75 ? towards(litAt11(t), 0.02, 0.6, t, 40) : towards(0.02, 5, 0.6, t, 92)),
      (t) => (t < 90 ? towards(openedAt10(t), 0.2, 0.2, t, 40) : towards(0.2, 3, 0.15, t, 90)),
    );
    expect(told(shut).some(({ alarm }) => alarm)).toBe(false);
  });
});
