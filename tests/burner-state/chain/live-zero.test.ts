import { describe, expect, it } from 'vitest';
import type { Reading } from '../../../shared/model/reading.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { at, captureOf, follow, openedAt10, readingsOf, towards } from '../story.ts';

// A converter that gives 4 mA without a flame (IEC 60381-1: 4 to 20 mA), its dark not entered; gas at 10 s, lit at 11 s to 12 mA, blown out at
// 40 s with the gas on.
const signal = (t: number) => (t < 40 ? towards(4, 12, 0.4, t, 11) : towards(12, 4, 0.4, t, 40));
const readings: Reading[] = readingsOf({ seconds: 60, pressure: openedAt10, signal }).map((reading) =>
  reading.role === 'flame_signal' ? { ...reading, unit: 'mA' } : reading,
);

describe('a current loop whose zero is 4 mA', () => {
  it('shows no flame before gas, and one that burns and is lost after', () => {
    const told = follow(readings, 60, undefined, { signalUnit: 'mA', trialSeconds: 10 });
    expect(at(told, 8).now.moment).toMatchObject({ gas: 'shut', flame: 'dark' });
    expect(at(told, 30).now.moment).toMatchObject({ gas: 'flowing', flame: 'burning' });
    expect(at(told, 44).alarm).toBe('flame-lost');
  });
  it('does so with hindsight', () => {
    const { spans } = trackCapture(captureOf(readings), {});
    const flameAt = (t: number) => spans.find(({ from_s, to_s }) => from_s <= t && t < to_s)?.flame;
    expect([5, 30, 50].map(flameAt)).toEqual(['dark', 'burning', 'lost']);
  });
});
