import { describe, expect, it } from 'vitest';
import { steadySignal } from '../visit/burner/detector.ts';
import { shareAt } from '../visit/burner/curves.ts';
import { timeOf } from '../visit/simulated.ts';
import { drawSimulated } from '../visit/visit.ts';
import { asSeen, type Expected, isRightStatus } from './expected.ts';
import { atMost, rejectedByHolm } from './holm.ts';
import { isToldApart } from './told-apart.ts';

describe('the statistics of the kinds, worked by hand', () => {
  it('adds up the binomial distribution', () => {
    // Of three tosses none: 1/8; at most one: 4/8; at most three: all.
    expect(atMost(0, 3, 0.5)).toBeCloseTo(1 / 8, 12);
    expect(atMost(1, 3, 0.5)).toBeCloseTo(4 / 8, 12);
    expect(atMost(3, 3, 0.5)).toBeCloseTo(1, 12);
  });

  it('stops at the first that Holm does not reject', () => {
    // Against 0.0125, 0.0167, 0.025 and 0.05 from the smallest on: 0.005 and 0.01 are rejected, 0.03 is not, so 0.04 is not either.
    expect(rejectedByHolm([0.01, 0.04, 0.03, 0.005], 0.05)).toEqual([true, false, false, true]);
  });
});

describe('the right status of a visit', () => {
  const expected = (low: Expected['reached']['low'], high: Expected['reached']['high'], burned = true): Expected => ({
    burned,
    reached: { low, high },
    plateau: [5, 5],
    ends: {},
    burning: {},
    window: {},
  });

  it('is that of the ends that were reached; either where an end lies at the edge of what was tested', () => {
    expect(isRightStatus('bounded', expected('yes', 'yes'))).toBe(true);
    expect(isRightStatus('open-low', expected('yes', 'yes'))).toBe(false);
    expect(isRightStatus('open-low', expected('no', 'yes'))).toBe(true);
    expect(isRightStatus('bounded', expected('no', 'yes'))).toBe(false);
    expect(isRightStatus('open-both', expected('either', 'no'))).toBe(true);
  });

  it('is none where no flame burned, and nowhere else', () => {
    expect(isRightStatus('none', expected('either', 'either', false))).toBe(true);
    expect(isRightStatus('bounded', expected('either', 'either', false))).toBe(false);
    expect(isRightStatus('none', expected('either', 'either'))).toBe(false);
  });
});

describe('what counts as tested', () => {
  // A signal that sags toward one side has another highest level over each part of the pressures.
  const { simulated, capture } = drawSimulated('one-sided sag', 3);
  const { facts, trace } = simulated;
  const lit = trace.flame.indexOf(true);
  const untilS = timeOf(lit) + 4;

  it('is all that burned while both meters worked', () => {
    expect(asSeen(simulated, capture).plateau / simulated.plateau).toBeCloseTo(1, 2);
  });
  it('is no pressure at which a meter was silent', () => {
    const faults = [{ meter: 'flame_signal', kind: 'silent', from_s: untilS, to_s: timeOf(simulated.n) }] as const;
    const seen = asSeen({ ...simulated, faults: [...faults] }, { ...capture, marks: [] });
    const atRest = trace.stand[lit + 100]!;
    expect(seen.plateau / steadySignal(facts, shareAt(facts.curve, atRest))).toBeCloseTo(1, 1);
    expect(seen.plateau).toBeLessThan(simulated.plateau);
  });
});

describe('what an observer who knows the curve can tell from the required signal', () => {
  // On the plateau, share 1, flicker of 0.2 with T = 1 s and a meter of noise 0.1 at 5 readings a second: the density of the noise at
  // frequency 0 is 2 x 1 x 0.04 + 0.01 / 5 = 0.082. A difference of 0.1 is told after 4.652^2 x 0.082 / 0.01 = 177.5 s.
  const { simulated: drawn } = drawSimulated('plain', 1);
  const { facts, instruments, trace } = drawn;
  const detector = { ...facts.detector, flicker: 0.2, shoulderFlicker: 0, flickerS: 1, dark: 0 };
  const curve = { ...facts.curve, family: 'logistic', low: 1, high: 9, lowWidth: 0.01, highWidth: 0.01 } as const;
  const simulated = {
    ...drawn,
    facts: { ...facts, detector, curve },
    instruments: { ...instruments, signal: { ...instruments.signal, noise: 0.1, hz: 5 } },
    trace: { ...trace, pressure: trace.pressure.map(() => 5) },
    required: 0.9,
  };
  const seconds = (s: number) => Array.from({ length: Math.round(s / 0.02) }, (_, i) => i % simulated.n);

  it.each([
    [170, false],
    [185, true],
  ])('is a tenth of the plateau after %d s of flicker of two tenths: %s', (s, is) => {
    expect(isToldApart(simulated, seconds(s))).toBe(is);
  });
  it('is nothing without a reading', () => {
    expect(isToldApart(simulated, [])).toBe(false);
  });
});
