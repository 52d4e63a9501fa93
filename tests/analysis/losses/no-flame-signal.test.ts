import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../shared/model/capture.ts';
import { answer } from '../answer.ts';
import { record } from '../burner-by-hand.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { downAndUp, sweepWith } from '../synthetic-sweep.ts';

const resultOf = (capture: Capture) => answer(capture).result;
const codes = (result: ReturnType<typeof resultOf>) => result.warnings.map(({ code }) => code);

describe('a signal that shows no flame', () => {
  it.each([0, -0.01])('gives no window where the meter stands at %d V', (level) => {
    const result = resultOf(sweepWith(() => level));
    expect(result.signalInterval.status).toBe('none');
    expect(result.setPoint).toBeUndefined();
    expect(codes(result)).toContain('signal-not-positive');
  });

  it.each([1, 2, 3, 4, 5, 6])('gives no end in the noise of a dark detector, seed %i', (seed) => {
    const random = createRandom(100 + seed);
    const noise = () => Math.round((0.02 + 0.01 * random.normal()) * 1000) / 1000;
    const result = resultOf(sweepWith(noise, { seed }));
    expect(result.signalInterval).toEqual({ status: 'none' });
    expect(codes(result)[0]).toBe('no-flame-response');
  });

  it.each([1, 2, 3, 4, 5, 6])('gives no end in the glow of a hot refractory, which changes twice, seed %i', (seed) => {
    const random = createRandom(200 + seed);
    const glows = (_: number, t: number) => (t < 60 ? 0.3 : t < 135 ? 0.45 : 0.4) + 0.02 * random.normal();
    const result = resultOf(sweepWith((p, t) => Math.round(glows(p, t) * 1000) / 1000, { seed, stepS: 0.2 }));
    expect(result.signalInterval).toEqual({ status: 'none' });
    expect(result.setPoint).toBeUndefined();
  });

  it('says of no glow that a flame burned on while gas was shut', () => {
    const random = createRandom(300);
    // Shut for 20 s at each end.
    const pressureAt = (t: number) => (t < 20 || t > 220 ? 0 : downAndUp(t - 20));
    const glows = (_: number, t: number) => Math.round((t < 80 ? 300 : 450) + 20 * random.normal()) / 1000;
    expect(codes(resultOf(sweepWith(glows, { pressureAt, lastS: 240, stepS: 0.2 })))).not.toContain('manometer-off');
  });
});

describe('a level signal of a flame over all that was swept', () => {
  const random = createRandom(400);
  // A window wider than the sweep; gas is on from 10 to 250 s.
  const isOn = (t: number) => t > 10 && t < 250;
  const pressureAt = (t: number) => (isOn(t) ? downAndUp(Math.min(200, Math.max(0, t - 25))) : 0);
  const level = (t: number) => (isOn(t) ? 4.5 : 0.02) + 0.02 * random.normal();
  const seen = (signal: (p: number, t: number) => number) =>
    codes(resultOf(sweepWith(signal, { pressureAt, lastS: 260, stepS: 0.2 })));

  it('is one that answers where it came with the gas and went with it', () => {
    const said = seen((_, t) => level(t));
    expect(said).toContain('low-end-not-reached');
    expect(said).not.toContain('no-flame-response');
  });
  it('is none where it stood through shut gas', () => {
    expect(seen(() => 4.5 + 0.02 * random.normal())).toContain('no-flame-response');
  });
  // The manometer's own output on the flame meter, with its leads crossed: the highest signal is that of shut gas.
  it('is none where it falls as the pressure rises, whether that is gas or not', () => {
    const result = resultOf(
      sweepWith((p) => 5 - 0.9 * p + 0.02 * random.normal(), { pressureAt, lastS: 260, stepS: 0.2 }),
    );
    expect(result.setPoint).toBeUndefined();
    expect(result.warnings[0]!.code).toBe('no-flame-response');
    expect(result.warnings[0]!.message).toMatch(/with the pilot gas shut/u);
  });
  it('gives no set point then, and says of the signal that it stood over shut gas', () => {
    const stands = () => 4.5 + 0.02 * random.normal();
    const result = resultOf(sweepWith(stands, { pressureAt, lastS: 260, stepS: 0.2 }));
    expect(result.setPoint).toBeUndefined();
    expect(result.warnings[0]!.message).toMatch(/stood at 4\.50 V with the pilot gas shut/u);
    expect(result.warnings[0]!.message).not.toContain('dark');
  });
});

describe('a flame that goes out within a second, each time it was lit', () => {
  it('is said to have been seen, and gives no set point', () => {
    const facts = { low: 1, high: 4, width: 0.1, fanOnly: 0.1, plateau: 8, start: 2.7, seed: 3 };
    const tried = [
      { seconds: 20, valve: 'shut' as const },
      { seconds: 0.8, valve: 'open' as const, spark: true as const },
      { seconds: 9, flame: 'out' as const },
    ];
    const result = resultOf(record(facts, [...tried, ...tried, ...tried, { seconds: 20, valve: 'shut' }]));
    expect(result.setPoint).toBeUndefined();
    expect(result.warnings.map(({ message }) => message).join(' ')).not.toContain('No flame was seen');
    expect(result.warnings[0]!.message).toContain('went out before its signal had built up');
  });
});
