import { describe, expect, it } from 'vitest';
import type { Known } from '../../../shared/burner-state/chain/bins.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { settingRefusal } from '../../../shared/burner-state/permissions.ts';
import { at, captureOf, follow, litAt11, openedAt10, readingsOf, type Story, towards } from '../story.ts';

const known: Known = { signalUnit: 'V', trialSeconds: 10, fanOnly: 0.2 };
const setup = { fanOnlyPressure: { value: 0.2, unit: 'inH2O' as const } };

/** Lit at 11 s to 5 V; lost at rest at 40 s, gas left on: hot refractory leaves some of the signal. */
const lost = (leftV: number, tau: number): Story => ({
  seconds: 70,
  pressure: openedAt10,
  signal: (t) => (t < 40 ? litAt11(t) : towards(5, leftV, tau, t, 40)),
});

describe('a flame that is lost with gas on, and leaves some of its signal', () => {
  it.each([
    [0.4, 0.5],
    [0.5, 0.5],
    [0.5, 1.2],
    [0.6, 0.8],
  ])('%d V of 5, after a fall to 1/e in %d s, is lost, live and with hindsight', (leftV, tau) => {
    for (const minimum of [undefined, 1.25]) {
      const story = lost(leftV, tau);
      const told = follow(readingsOf(story), story.seconds, undefined, { ...known, minimumSignal: minimum });
      const first = told.find(({ alarm }) => alarm !== undefined);
      expect(first).toMatchObject({ alarm: 'flame-lost' });
      // Eight of ten parts of the fall, and the time in which it is seen that it stays.
      expect(first!.nowS).toBeLessThan(40 + 3 * tau + 2.5);
      expect(at(told, 69)).toMatchObject({ alarm: 'flame-lost', now: { moment: { flame: 'lost' } } });
    }
    const { spans } = trackCapture(captureOf(readingsOf(lost(leftV, tau))), setup);
    expect(spans.at(-1)).toMatchObject({ gas: 'flowing', flame: 'lost' });
  });

  it('is back when its signal is', () => {
    const story: Story = {
      ...lost(0.5, 0.5),
      signal: (t) => (t < 55 ? lost(0.5, 0.5).signal(t) : towards(0.5, 5, 0.6, t, 55)),
    };
    const told = follow(readingsOf(story), story.seconds, undefined, known);
    expect(at(told, 54).now.moment.flame).toBe('lost');
    expect(at(told, 65).now.moment).toMatchObject({ gas: 'flowing', flame: 'burning' });
  });
});

// Lost at 40 s with a tenth of its signal left, gas shut at 50 s; the damper opens at 54 s, the refractory cools until 80 s.
it('gas that is shut over a signal that is left is shut, and more air from there is air', () => {
  const left = (t: number) =>
    t < 40 ? litAt11(t) : towards(5, t < 60 ? 0.5 : towards(0.5, 0.02, 8, t, 60), 0.5, t, 40);
  const air = (t: number) => 0.3 + 0.35 * Math.min(1, Math.max(0, (t - 54) / 10));
  for (const fanOnly of [0.3, undefined]) {
    const story: Story = {
      seconds: 100,
      pressure: (t) => (t < 50 ? towards(0.3, 3, 0.15, t, 10) : towards(3, air(t), 0.2, t, 50)),
      signal: left,
    };
    const told = follow(readingsOf(story), story.seconds, undefined, { ...known, fanOnly, minimumSignal: 1.25 });
    expect(at(told, 49)).toMatchObject({ alarm: 'flame-lost' });
    expect(told.filter(({ nowS, alarm }) => nowS > 53 && alarm !== undefined)).toEqual([]);
    expect(told.filter(({ nowS, now }) => nowS > 53 && now.moment.gas !== 'shut')).toEqual([]);
  }
});

it.each([0, 0.2])('nothing is set over walls that glow as bright as the flame, gas shut to %s inH2O', (fanOnly) => {
  const story: Story = {
    seconds: 70,
    pressure: (t) => (t < 40 ? openedAt10(t) : towards(3, fanOnly, 0.15, t, 40)),
    // Straight down to nothing within a minute, from 95 % of the flame's signal.
    signal: (t) => (t < 40.5 ? litAt11(t) : 4.75 * (1 - (t - 40.5) / 60)),
  };
  const told = follow(readingsOf(story), story.seconds, undefined, { ...known, fanOnly, minimumSignal: 1.25 });
  expect(settingRefusal({ now: at(told, 35).now, alarm: undefined })).toBeUndefined();
  const offered = told.filter(({ nowS, now }) => nowS > 41.5 && !settingRefusal({ now, alarm: undefined }));
  expect(offered.map(({ nowS }) => nowS)).toEqual([]);
});
