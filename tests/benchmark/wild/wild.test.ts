import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../shared/numerics/random.ts';
import { lowerBounds } from './bound.ts';
import { type Draws, families } from './families.ts';
import { turn } from './hand.ts';
import { drawWildSweep, wildKinds } from './kinds.ts';
import { type Facts, readingsOf, shownSteady } from './simulate.ts';
import { truthOf } from './truth.ts';

const random = createRandom(1);
const draws: Draws = { random, between: (a, b) => (a + b) / 2, oneOf: (values) => values[0]! };
const facts: Facts = {
  family: families.logistic,
  x: [0, 4, 1, 0.1, 4, 0.1],
  deadS: 0.1,
  lagS: 0.5,
  secondLagS: 0,
  manometerS: 0.1,
  white: 0.01,
  flicker: 0,
  manometerNoise: 0,
  pressureHz: 5,
  signalHz: 5,
  pressureDigit: 1e-9,
  signalDigit: 1e-9,
  outs: [],
};
const tested: [number, number] = [0.6, 4.4];

describe('the truth of a sweep in the wild, worked by hand', () => {
  it('a logistic shoulder is at nine tenths ln 9 widths from its middle', () => {
    // But for a millionth of the plateau that the other shoulder takes.
    const { low, high, status } = truthOf(shownSteady(facts), tested);
    expect(status).toBe('bounded');
    expect(low).toBeCloseTo(1 + 0.1 * Math.log(9), 5);
    expect(high).toBeCloseTo(4 - 0.1 * Math.log(9), 5);
  });
  it('a meter at the end of its range has its plateau there, and the end at nine tenths of that', () => {
    const { low, plateau } = truthOf(shownSteady({ ...facts, top: { level: 2, at: 'meter' } }), tested);
    expect(plateau).toBe(2);
    // 1.8 of 4 V is a share of 0.45.
    expect(low).toBeCloseTo(1 + 0.1 * Math.log(0.45 / 0.55), 6);
  });
  it('a hump is at nine tenths where half to the square of the distance is', () => {
    const hump = { ...facts, family: families.hump, x: [0, 4, 2.5, 1.2] };
    expect(truthOf(shownSteady(hump), tested).low).toBeCloseTo(2.5 - 1.2 * Math.sqrt(Math.log2(1 / 0.9)), 5);
  });
});

describe('the Cramer-Rao bound of a sweep', () => {
  const path = turn({ legs: [2.5, 0.6, 4.4, 2.5], speed: 0.08, style: 'even', restS: 3, back: 0 }, draws);
  const boundsAt = (changed: Partial<Facts>, along = path) => {
    const own = { ...facts, ...changed };
    const readings = readingsOf(own, along, { ...draws, random: createRandom(2) });
    const capture = { id: '', meters: [], setup: {}, readings, lines: [], marks: [], trials: [], notes: [] };
    const truth = { ...truthOf(shownSteady(own), tested), lagS: 0.5 };
    return lowerBounds({ capture, facts: own, path: along, tested, truth });
  };
  it('is as many times larger as white noise is', () => {
    const [one, three] = [boundsAt({}), boundsAt({ white: 0.03 })];
    expect(three.low! / one.low!).toBeCloseTo(3, 6);
    expect(three.high! / one.high!).toBeCloseTo(3, 6);
  });
  it('falls with the root of the number of readings', () => {
    const [few, many] = [boundsAt({}), boundsAt({ signalHz: 20 })];
    expect(few.low! / many.low!).toBeGreaterThan(1.8);
    expect(few.low! / many.low!).toBeLessThan(2.2);
  });
  it('is that of one free parameter and more: larger than white noise over slope and the root of the readings there', () => {
    // Slope of the logistic at nine tenths: 4 x 0.9 x 0.1 / 0.1 V an inch; at most all readings of the shoulder could tell it.
    const onShoulder = (2 * 5 * 0.8) / 0.08;
    expect(boundsAt({}).low!).toBeGreaterThan(0.01 / 3.6 / Math.sqrt(onShoulder));
    expect(boundsAt({}).low!).toBeLessThan(0.02);
  });
});

describe('the kinds in the wild', () => {
  it('are at least forty, and no name would be split at a comma', () => {
    expect(wildKinds.length).toBeGreaterThanOrEqual(40);
    expect(wildKinds.filter((kind) => kind.includes(','))).toEqual([]);
  });
  it('draw the same sweep from the same seed', () => {
    expect(drawWildSweep('stairs', 5).capture).toEqual(drawWildSweep('stairs', 5).capture);
  });
});
