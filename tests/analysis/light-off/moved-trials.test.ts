import { describe, expect, it } from 'vitest';
import { hasMoved } from '../../../shared/analysis/moved-trials.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import { trial } from '../../advice/situation.ts';

/** A manometer in pascals, five readings a second over 20 s: gas at 5 s, 600 Pa, and what is added from then on. */
const readings = (more: (sinceGasS: number) => number): Reading[] =>
  Array.from({ length: 100 }, (_, i) => {
    const elapsedS = i / 5;
    const value = elapsedS < 5 ? 50 : 600 + more(elapsedS - 5);
    return { role: 'pilot_pressure', unit: 'Pa', elapsedS, value, raw: String(value) };
  });
const moved = (more: (sinceGasS: number) => number, timeToProveS = 4) =>
  hasMoved(readings(more), 'inH2O', 10, 0.1)({ ...trial(2.4), elapsedS: 5, timeToProveS });

describe('a pressure that moved during a trial', () => {
  it('is told by more than twice the tolerance until the flame was proved', () => {
    // 0.1 inH2O is 24.9 Pa: 49.8 Pa in all.
    expect(moved(() => 0)).toBe(false);
    expect(moved((s) => 14 * s)).toBe(false);
    expect(moved((s) => 20 * s)).toBe(true);
  });
  it('is neither the lock-up that bleeds off in the first second nor what came after the flame was proved', () => {
    expect(moved((s) => (s < 0.9 ? 200 : 0))).toBe(false);
    expect(moved((s) => (s > 4.1 ? 200 : 0))).toBe(false);
  });
  it('is not the fall after gas was shut, at the end of a trial that did not light or earlier', () => {
    // The control shuts gas 10 s after it came on; the meters saw it come a little later. Or the technician shuts it at 4 s.
    for (const shutS of [9.7, 4])
      for (const tau of [0.2, 1])
        for (const before of [{ pressureBefore: 0.2 }, {}]) {
          const fall = (s: number) => (s < shutS ? 0 : -550 * (1 - Math.exp(-(s - shutS) / tau)));
          const failed = { ...trial(2.4), lit: false, elapsedS: 5, ...before };
          expect(hasMoved(readings(fall), 'inH2O', 10, 0.1)(failed), `${shutS} s, ${tau} s`).toBe(false);
          // A regulator that is turned before gas is shut is seen all the same.
          const turned = (s: number) => 30 * Math.min(s, shutS) + fall(s) * (s < shutS ? 1 : 1.2);
          expect(hasMoved(readings(turned), 'inH2O', 10, 0.1)(failed)).toBe(true);
        }
  });
  it('is not claimed of the noise of a manometer where no tolerance is known', () => {
    const noisy = readings((s) => 0.5 * Math.sin(50 * s));
    expect(hasMoved(noisy, 'inH2O', 10, 0)({ ...trial(2.4), elapsedS: 5, timeToProveS: 4 })).toBe(false);
  });
  it('is not claimed of a trial whose time is not known, or without readings', () => {
    expect(
      hasMoved(
        readings((s) => 50 * s),
        'inH2O',
        10,
        0.1,
      )(trial(2.4)),
    ).toBe(false);
    expect(hasMoved([], 'inH2O', 10, 0.1)({ ...trial(2.4), elapsedS: 5 })).toBe(false);
  });
});
