import { describe, expect, it } from 'vitest';
import { clean } from '../../../../shared/analysis/sweep/clean.ts';
import { findSelfCheck } from '../../../../shared/analysis/sweep/self-check/self-check.ts';
import { collectSweep } from '../../../../shared/analysis/sweep/collect.ts';
import { simulateVisit } from '../../../../shared/practice/simulate.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';
import { drawSweep } from '../../../benchmark/sweep/kinds.ts';

const seeds = [1, 2, 3, 4, 5, 6];
const signalOf = (scenario: string, seed: number) => {
  const sweep = collectSweep(simulateVisit(scenario, seed).capture);
  if (!sweep.ok) throw new Error(sweep.fault.code);
  return sweep.value;
};

describe('a self-checking detector', () => {
  // The practice detector closes its shutter every 12 s for 0.5 s, behind a lag of 0.35 s that smears the pulses.
  it.each(seeds)('is recognized by its rhythm though its lag smears the pulses, seed %i', (seed) => {
    const { signal } = signalOf('self-check', seed);
    const { found, keep } = findSelfCheck(signal)!;
    expect(Math.abs(found.periodS - 12)).toBeLessThan(0.05);
    expect(found.pulses).toBeGreaterThan(8);
    // Between neighbors of which neither is left out the signal falls nowhere by a quarter, save from one sweep to the next.
    const { time, value } = signal;
    const falls = Array.from(time.keys()).filter(
      (i) => i > 0 && value[i - 1]! > 3 && value[i]! < 0.75 * value[i - 1]! && time[i]! - time[i - 1]! < 5,
    );
    expect(falls.length).toBeGreaterThan(3);
    const jumps = falls.filter((i) => keep[i] === 1 && keep[i - 1] === 1);
    expect(jumps.length).toBe(0);
  });

  it.each(seeds)('is known to a hundredth of its period from a simulated sweep, seed %i', (seed) => {
    const drawn = drawSweep('self-check', seed);
    const sweep = collectSweep(drawn.capture);
    const found = sweep.ok ? findSelfCheck(sweep.value.signal)?.found : undefined;
    const { periodS } = drawn.facts.selfCheck!;
    expect(Math.abs(found!.periodS - periodS)).toBeLessThan(0.01 * periodS);
  });

  it.each(['clean', 'noisy', 'flame-lost', 'flooded', 'saturated'])(
    'is not found where there is none: %s',
    (scenario) => {
      for (const seed of seeds) {
        const sweep = signalOf(scenario, seed);
        expect(clean(sweep.pressure, sweep.signal).selfCheck).toBeUndefined();
      }
    },
  );

  // Three to six dips of a steady signal at random moments of three minutes, as a hand or a gust makes them. At random a rhythm is to be
  // found in at most one of a hundred: more than nine in 300 would happen once in about 1500 runs (binomial).
  it('is not found in dips that came at random', () => {
    const random = createRandom(20);
    let found = 0;
    for (let draw = 0; draw < 300; draw += 1) {
      const dips = Array.from({ length: 3 + (draw % 4) }, () => 180 * random.uniform());
      const time = Float64Array.from({ length: 900 }, (_, i) => i / 5);
      const isDown = (t: number) => dips.some((at) => t >= at && t < at + 0.5);
      const value = time.map((t) => (isDown(t) ? 2 : 5) + 0.01 * random.normal());
      if (findSelfCheck({ time, value })) found += 1;
    }
    expect(found).toBeLessThanOrEqual(9);
  });

  // A shutter of 0.4 s every 8 s before a first-order lag of one second: it lowers the signal to exp(-0.4) = 67 % at most.
  it('is cut with the tail that a lag draws: what is left lies at the level between pulses', () => {
    const lag = 1 - Math.exp(-0.02);
    const levels: number[] = [];
    for (let i = 0, level = 5; i < 120 / 0.02; i += 1) {
      level += (((i * 0.02) % 8 < 0.4 && i * 0.02 > 4 ? 0 : 5) - level) * lag;
      levels.push(level);
    }
    const random = createRandom(21);
    const time = Float64Array.from({ length: 600 }, (_, i) => i / 5);
    const value = time.map((t) => levels[Math.round(t / 0.02)]! + 0.01 * random.normal());
    const { keep, found } = findSelfCheck({ time, value })!;
    expect(Math.abs(found.periodS - 8)).toBeLessThan(0.08);
    const kept = value.filter((_, i) => keep[i] === 1);
    // The tail is 0.1 % of the level after ln(330) = 5.8 s only: a quarter of each period is left, and its mean lies within that.
    expect(kept.length).toBeGreaterThan(150 - 15);
    expect(Math.abs(kept.reduce((a, b) => a + b, 0) / kept.length - 5)).toBeLessThan(0.005);
  });

  // A row of trials by a control's clock: lit for 5 s every 36.6 s, the signal following with a lag of 0.2 to 1 s, eight times a second.
  it.each([8, 14, 22])('is not seen in %i light-offs one like the other', (trials) => {
    const wrong = Array.from({ length: 20 }, (_, seed) => {
      const random = createRandom(seed + 1);
      const lagS = 0.2 + 0.04 * seed;
      const stepS = 0.01;
      const [gasS, periodS, litS] = [60, 36.6, 5 + 0.1 * seed];
      const time: number[] = [];
      const value: number[] = [];
      let level = 0;
      for (let i = 0; i * stepS < gasS + trials * periodS; i += 1) {
        const t = i * stepS;
        // A minute of steady flame before them.
        const isLit = t < 55 || (t > gasS && (t - gasS) % periodS < litS);
        level += ((isLit ? 5 : 0.03) - level) * (1 - Math.exp(-stepS / lagS));
        if (i % 12 !== 0) continue;
        time.push(t);
        value.push(level * (1 + 0.01 * random.normal()) + 0.01 * random.normal());
      }
      return findSelfCheck({ time: Float64Array.from(time), value: Float64Array.from(value) })?.found;
    });
    expect(wrong.filter((found) => found !== undefined)).toEqual([]);
  });
});
