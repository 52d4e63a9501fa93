import { describe, expect, it } from 'vitest';
import type { StateSpan } from '../../../shared/burner-state/track.ts';
import { shareOneClock } from '../../../shared/analysis/sweep/meter-faults/one-clock.ts';
import type { Reading } from '../../../shared/model/reading.ts';

const span = (gas: StateSpan['gas'], from_s: number, to_s: number) => ({ gas, from_s, to_s }) as StateSpan;
/** Gas on from 20 to 120 s, with half a second at either end in which it is not known. */
const spans = [
  span('shut', 0, 20),
  span('unknown', 20, 20.5),
  span('flowing', 20.5, 120),
  span('unknown', 120, 120.3),
  span('closing', 120.3, 121),
  span('shut', 121, 160),
];
/** A signal of 5 V from `onS` to `offS`, twice a second. */
const signal = (onS: number, offS: number): Reading[] =>
  Array.from({ length: 320 }, (_, i) => {
    const elapsedS = i / 2;
    const value = elapsedS >= onS && elapsedS < offS ? 5 : 0.02;
    return { role: 'flame_signal', unit: 'V', elapsedS, value, raw: String(value) };
  });

describe('whether two meters share one clock', () => {
  it('they do where the flame comes soon after the gas and goes with it, though another clock would explain the curve', () => {
    for (const apartS of [-30, -12, 12, 30]) expect(shareOneClock(spans, signal(22, 121), apartS, 10)).toBe(true);
  });
  it('they do not where the flame would burn before the gas came, or long after it was shut', () => {
    expect(shareOneClock(spans, signal(22 - 30, 121 - 30), -30, 10)).toBe(false);
    expect(shareOneClock(spans, signal(22 + 30, 121 + 30), 30, 10)).toBe(false);
  });
  it('nothing speaks for it in a recording that begins and ends with the pilot burning', () => {
    expect(shareOneClock([span('flowing', 0, 160)], signal(-10, 200), -20, 10)).toBe(false);
  });
});
