import { describe, expect, it } from 'vitest';
import { findFrozen } from '../../../../shared/analysis/sweep/meter-faults/frozen.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';

/** Up from 1 inH2O in a minute; ten readings a second of a signal that is cut off at 4.8 V, and its fall from 40 s on. */
function topOf(fallS: number) {
  const random = createRandom(5);
  const time = Float64Array.from({ length: 600 }, (_, i) => i / 10);
  const pressure = { time, value: time.map((t) => 1 + t / 20 + 0.003 * random.normal()) };
  const height = (t: number) => (t < 20 ? 4 : t < 40 ? 6 : 6 * Math.exp(-(t - 40) / fallS));
  const signal = {
    time,
    value: time.map((t) => Math.min(4.8, height(t)) + (height(t) < 4.8 ? 0.02 * random.normal() : 0)),
  };
  return findFrozen(pressure, signal, new Uint8Array(600).fill(1), []).signal;
}

describe('a signal that stands at its highest number while the pressure is turned', () => {
  it('is cut off by the amplifier where it comes down as a detector lets it', () => {
    for (const fallS of [0.3, 1, 3]) expect(topOf(fallS)).toEqual([]);
  });
  it('was frozen where it is dark in the next reading, a tenth of a second later', () => {
    const found = topOf(0.01);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ value: 4.8 });
    expect(Math.abs(found[0]!.fromS - 20)).toBeLessThan(0.2);
    expect(Math.abs(found[0]!.toS - 40)).toBeLessThan(0.2);
  });
});

describe('a manometer of coarse digits at zero', () => {
  /** Gas on for 30 s in the middle of two minutes, without a flame; the other meter shows `signalAt` twice a second. */
  const shut = (signalAt: (t: number) => number) => {
    const time = Float64Array.from({ length: 240 }, (_, i) => i / 2);
    const pressure = { time, value: time.map((t) => (t > 50 && t < 80 ? 1.5 : 0)) };
    return findFrozen(pressure, { time, value: time.map(signalAt) }, new Uint8Array(240).fill(1), [50, 80]).pressure;
  };
  it.each([1, 2, 3])('is not frozen because a dark detector is noisy, seed %i', (seed) => {
    const random = createRandom(seed);
    expect(shut(() => 0.15 + 0.06 * random.normal())).toEqual([]);
  });
  it('is frozen where the signal meanwhile goes down a shoulder', () => {
    expect(shut((t) => Math.max(0.2, 4 - t / 30)).length).toBeGreaterThan(0);
  });
});
