import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../../shared/numerics/random.ts';
import { shareAt } from '../burner/curves.ts';
import { createDetector, seenFlicker } from '../burner/detector.ts';
import { stepS } from '../burner/facts.ts';
import { plainDraft } from '../draft/draft.ts';
import { alarmAt, firstAlarm } from './earliest-detection.ts';
import { logLikelihoods, logUpperTail, type SignalModel } from './log-likelihood.ts';
import { signalEnds } from './window.ts';

/** A signal of one deviation while it burns and none when it does not, read once a step, without lag or flicker. */
function staticSignal(count: number, lostAt: number, seed: number): SignalModel {
  const random = createRandom(seed);
  return {
    stepS: 1,
    light: Array.from({ length: count }, () => 1),
    flicker: Array.from({ length: count }, () => 0),
    flickerS: 1,
    lagS: 0,
    noise: 1,
    clip: Infinity,
    start: 1,
    readings: Array.from({ length: count }, (_, step) => ({ step, value: (step < lostAt ? 1 : 0) + random.normal() })),
  };
}
const burning = (model: SignalModel) => [logLikelihoods(model, () => 1)];
const lostAtAny = (model: SignalModel) =>
  model.readings.map(({ step }) => logLikelihoods(model, (i) => (i < step ? 1 : 0)));

describe('the detector that is told everything', () => {
  it("is Page's cumulative sum with k = 1/2 where the signal falls by one deviation at once", () => {
    const model = staticSignal(80, 40, 5);
    const [harmless, alternatives] = [burning(model)[0]!, lostAtAny(model)];
    let sum = 0;
    for (const [k, { value }] of model.readings.entries()) {
      // Down by one: the reference value lies half way, the sum starts anew at zero.
      sum = Math.max(0, sum) + 0.5 - value;
      const best = alternatives.slice(0, k + 1).reduce((most, each) => Math.max(most, each[k]!), -Infinity);
      expect(best - harmless[k]!).toBeCloseTo(sum, 9);
    }
  });
  it('needs as many readings as the reference says: 10.38 at h = 5 (Montgomery, table of ARL, k = 1/2)', () => {
    let total = 0;
    const runs = 1500;
    for (let seed = 1; seed <= runs; seed += 1) {
      const model = staticSignal(70, 0, seed);
      total += firstAlarm(burning(model), lostAtAny(model), 5)! + 1;
    }
    // Deviation of one run length about 6: four standard errors are 0.6.
    expect(Math.abs(total / runs - 10.376)).toBeLessThan(0.6);
  });
  it.each([
    [4, 335.37],
    [5, 930.89],
  ])('is not set lower than the level %d that the reference gives for a run of %d readings', (h, run) => {
    expect(alarmAt(1, run)).toBeGreaterThanOrEqual(h);
    expect(alarmAt(1, run)).toBeLessThan(h + 0.3);
  });
  it('takes tails of the normal distribution from tables: P(Z > 1.96) = 0.0250, P(Z > 6) = 9.866e-10', () => {
    expect(Math.exp(logUpperTail(1.959964))).toBeCloseTo(0.025, 6);
    expect(Math.exp(logUpperTail(6)) / 9.865876e-10).toBeCloseTo(1, 3);
    expect(Math.exp(logUpperTail(-1.959964))).toBeCloseTo(0.975, 6);
  });
});

const draft = () => plainDraft(createRandom(1)).burner;

describe('what the truth is made of, worked by hand', () => {
  it('a logistic shoulder is at nine tenths ln 9 widths from its middle', () => {
    const facts = draft();
    Object.assign(facts.curve, { family: 'logistic', low: 1, lowWidth: 0.1, high: 9, highWidth: 0.2 });
    Object.assign(facts.regulator, { springLow: 0.1, springHigh: 12 });
    facts.detector.dark = 0;
    const { low, high } = signalEnds(facts, 0.9, 5);
    expect(low).toBeCloseTo(1 + 0.1 * Math.log(9), 6);
    expect(high).toBeCloseTo(9 - 0.2 * Math.log(9), 6);
  });
  it('a hump is half high at its ends and has no end beyond the spring', () => {
    const facts = draft();
    Object.assign(facts.curve, { family: 'hump', low: 1, high: 4 });
    facts.detector.dark = 0;
    expect(shareAt(facts.curve, 2)).toBeCloseTo(1, 9);
    expect(shareAt(facts.curve, 4)).toBeCloseTo(0.5, 9);
    Object.assign(facts.regulator, { springLow: 0.1, springHigh: 3 });
    expect(signalEnds(facts, 0.5, 2).low).toBeCloseTo(1, 6);
    expect(signalEnds(facts, 0.5, 2).high).toBeUndefined();
  });
  it('flicker of time T keeps T / (T + L) of its variance behind a lag L: found in the simulated signal', () => {
    const facts = draft();
    Object.assign(facts.curve, { family: 'cliff' });
    Object.assign(facts.detector, {
      flicker: 0.05,
      shoulderFlicker: 0,
      flickerS: 0.5,
      lagS: 1.5,
      dark: 0,
      warmUp: 0,
    });
    const detector = createDetector(facts, createRandom(3));
    const flame = { burns: true, hasBurned: true, burnedS: 1000 };
    const seen: number[] = [];
    for (let t = 0; t < 4000; t += stepS) {
      detector.step(1, flame, false);
      if (t > 20) seen.push(detector.signal);
    }
    const mean = seen.reduce((a, b) => a + b) / seen.length;
    const sd = Math.sqrt(seen.reduce((a, b) => a + (b - mean) ** 2, 0) / seen.length);
    // 0.05 x sqrt(0.5 / 2) = 0.025; two thousand independent values: 5 % are three standard errors.
    expect(Math.abs(sd / 0.025 - 1)).toBeLessThan(0.05);
    expect(seenFlicker(facts, 1)).toBeCloseTo(0.025, 9);
  });
});
