import { describe, expect, it } from 'vitest';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import type { Trial } from '../../../shared/model/capture.ts';
import { captureOf, readingsOf, type Story, towards } from '../story.ts';

/** A pilot that lights from 30 s on; before, gas from 10 s to 18 s that does not light, under a spark of 4.5 V that the detector sees. */
const story: Story = {
  seconds: 80,
  pressure: (t) =>
    t < 18 ? towards(0.2, 3, 0.15, t, 10) : t < 40 ? towards(3, 0.2, 0.15, t, 18) : towards(0.2, 3, 0.15, t, 40),
  signal: (t) =>
    t < 17.5
      ? towards(0.02, 4.5, 0.2, t, 10.2)
      : t < 41
        ? towards(4.5, 0.02, 0.2, t, 17.5)
        : towards(0.02, 5, 0.6, t, 41),
};

/** What is said of the flame while the gas of the trial flows and while the pilot burns. */
const flames = (trial: Partial<Trial>, own: Story = story) => {
  const entry: Trial = { pressure: 3, unit: 'inH2O', lit: false, elapsedS: 10, ...trial };
  const { spans } = trackCapture({ ...captureOf(readingsOf(own)), trials: [entry] }, { pilotTrialSeconds: 8 });
  const within = (from: number, to: number) =>
    new Set(spans.filter(({ from_s, to_s }) => to_s > from && from_s < to).map(({ flame }) => flame));
  return { trial: within(10.5, 19), pilot: within(50, 79) };
};
const told = (words: Set<string>) => words.has('burning') || words.has('unsteady') || words.has('lost');

describe('a trial that was entered as not lit over the signal of a spark', () => {
  it('has no flame, and the pilot that burns later does', () => {
    const { trial, pilot } = flames({});
    expect(told(trial)).toBe(false);
    expect(pilot).toEqual(new Set(['burning']));
  });
  it('keeps what the meters say without an entry about it, or with one that says lit', () => {
    expect(told(flames({ elapsedS: 60 }).trial)).toBe(true);
    expect(told(flames({ lit: true }).trial)).toBe(true);
    expect(told(flames({ knownBy: 'meters' }).trial)).toBe(true);
  });
  it('takes back no flame that burns on after the trial: it lit too late, or the entry has the wrong time', () => {
    const { pilot, trial } = flames({ elapsedS: 40.5 });
    expect(pilot).toEqual(new Set(['burning']));
    expect(told(trial)).toBe(true);
  });
});
