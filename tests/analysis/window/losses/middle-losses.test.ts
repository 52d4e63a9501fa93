import { describe, expect, it } from 'vitest';
import { burnsOtherwise } from '../../../../shared/analysis/window/losses/middle-losses.ts';

/** Five readings a second of a signal of 5 V, 4.5 V asked for, of which the pressure is `course` and `lagS` is removed. */
function burnedOtherwise(
  course: (t: number) => number,
  lostS: number,
  relitS: number,
  { untilS = 120, lagS = 0, level = (_: number): number => 5 } = {},
) {
  const elapsedS = Float64Array.from({ length: untilS * 5 }, (_, i) => i / 5);
  const pressure = elapsedS.map((t) => course(t - lagS));
  const all = elapsedS.map(course);
  const tested = [Math.min(...all), Math.max(...all)] as const;
  const signal = elapsedS.map((t) => (t > lostS && t < relitS ? 0.1 : level(t)));
  const pairs = { elapsedS, pressure, signal, direction: new Float64Array(elapsedS.length) };
  return burnsOtherwise(pairs, tested, 4.5, [{ lostS, relitS }], course, 'inH2O')({ lostS, lostAt: course(lostS) });
}
/** From 2 inH2O at rest for `restS` down to 1 in 20 s, up to 4 in a minute. */
const swept = (restS: number) => (t: number) =>
  t < restS ? 2 : t < restS + 20 ? 2 - (t - restS) / 20 : Math.min(4, 1 + (t - restS - 20) / 20);

describe('a flame that was lost', () => {
  it('burned well otherwise where it burned at lower and at higher pressures', () => {
    expect(burnedOtherwise(swept(20), 70, 74)).toBe(true);
  });
  it('was put out by its pressure where it burned on one side only', () => {
    // Out at 1.25 inH2O on the way down, and back at 1.5 on the way up.
    expect(burnedOtherwise(swept(20), 35, 50)).toBe(false);
  });
  it('the same where a lag that was fitted 3 s too long puts the flame that came back lower than where it was lost', () => {
    expect(burnedOtherwise(swept(20), 35, 45.5, { lagS: 3 })).toBe(false);
  });
  it('burned well otherwise where it had burned at rest for ten seconds and the pressure did not move', () => {
    const staysThere = (t: number) => Math.max(2, swept(20)(t));
    expect(burnedOtherwise(staysThere, 15, 45)).toBe(true);
    // Not where it had rested for six seconds, nor where its signal was too low by then.
    expect(burnedOtherwise(staysThere, 6, 45)).toBe(false);
    expect(burnedOtherwise(staysThere, 15, 45, { level: (t) => (t < 15 ? 4.2 : 5) })).toBe(false);
  });
  it('was put out by its pressure where the hand turned on within a second of it, though it had rested until then', () => {
    // A step of 0.2 inH2O every 20 s, with a lag that was fitted 0.6 s too long: it seems to go out before the hand moves.
    const steps = (t: number) => 2.5 + 0.2 * Math.min(5, Math.floor(t / 20));
    expect(burnedOtherwise(steps, 99.4, 140)).toBe(false);
    // A valve that the control shut within that second is no hand.
    const shut = (t: number) => (t < 99.9 ? steps(t) : 0.2);
    expect(burnedOtherwise(shut, 99.4, 140, { untilS: 100 })).toBe(true);
  });
  it('is not at rest where the hand turns through three inches in ten minutes', () => {
    const slowly = (t: number) => (t < 600 ? 4 - t / 200 : 1 + (t - 600) / 20);
    expect(burnedOtherwise(slowly, 580, 640, { untilS: 660 })).toBe(false);
  });
  it('was put out by its pressure where it went out in a turn after a rest', () => {
    expect(burnedOtherwise(swept(20), 24, 60)).toBe(false);
  });
});
