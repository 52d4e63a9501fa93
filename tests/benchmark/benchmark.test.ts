import { describe, expect, it } from 'vitest';
import { run } from './coverage/judge-sweep.ts';
import { oracleAnswer } from './coverage/oracle.ts';
import { inParallel } from './in-parallel.ts';
import type { TrueCurve } from './sweep/burner.ts';
import { drawSweep } from './sweep/kinds.ts';
import { simulateSweep } from './sweep/simulate.ts';
import { truthOf } from './sweep/truth.ts';

const curve: TrueCurve = {
  dark: 0,
  amplitude: 4,
  low: 1,
  lowWidth: 0.1,
  high: 9,
  highWidth: 0.1,
  clip: 10,
  lossBelow: -1,
  lowRound: 1,
  highRound: 1,
};
const truth = (changed: Partial<TrueCurve>, tested: [number, number] = [0.5, 9.5]) =>
  truthOf({ ...curve, ...changed }, tested, { signalDropFraction: 0.1 });

describe('the truth that results are compared with, worked by hand', () => {
  it('a logistic shoulder is at nine tenths ln 9 widths from its middle', () => {
    expect(truth({}).low).toBeCloseTo(1 + 0.1 * Math.log(9), 9);
    expect(truth({}).high).toBeCloseTo(9 - 0.1 * Math.log(9), 9);
    expect(truth({}).plateau).toBeCloseTo(4, 9);
  });
  it('under a clip the end lies where the unclipped curve reaches nine tenths of the clip', () => {
    // 0.9 x 2 V of 4 V is a share of 0.45.
    expect(truth({ clip: 2 })).toMatchObject({ plateau: 2, status: 'bounded' });
    expect(truth({ clip: 2 }).low).toBeCloseTo(1 + 0.1 * Math.log(0.45 / 0.55), 9);
  });
  it('a flame that is lost first sets the end', () => {
    expect(truth({ lossBelow: 1.7 }).low).toBeCloseTo(1.7, 9);
  });
  it('a drawn-out foot moves the end to where (1 + exp(-x))^(-1/2) is nine tenths', () => {
    expect(truth({ lowRound: 2 }).low).toBeCloseTo(1 - 0.1 * Math.log(0.9 ** -2 - 1), 9);
  });
  it('a hump falls to nine tenths at the root of log2(10/9) of the way to half of its height', () => {
    // 0.5^x^2 = 0.9; from the middle at 5 it is 4 to half of the height.
    const x = Math.sqrt(Math.log2(10 / 9));
    expect(truth({ form: 'hump' })).toMatchObject({ status: 'bounded' });
    expect(truth({ form: 'hump' }).low).toBeCloseTo(5 - 4 * x, 6);
    expect(truth({ form: 'hump' }).high).toBeCloseTo(5 + 4 * x, 6);
  });
  it('a power law that takes half at 9 takes a tenth where a fifth to the power of its inverse exponent is', () => {
    // Exponent 9 / (2 x 0.9) = 5: 0.5 (p / 9)^5 = 0.1, the plateau being full far below.
    const { high, plateau } = truth({ form: 'power-high', highWidth: 0.9, lowWidth: 0.02 });
    expect(plateau).toBeCloseTo(4, 2);
    expect(high).toBeCloseTo(9 * 0.2 ** (1 / 5), 2);
  });
  it('an end outside the tested pressures is open', () => {
    expect(truth({}, [3, 9.5])).toMatchObject({ status: 'open-low' });
    expect(truth({}, [3, 5])).toMatchObject({ status: 'open-both' });
    expect(truth({}, [3, 5]).high).toBeUndefined();
  });
  it('a plateau that sags has its highest level where the sag begins', () => {
    // A quarter down one inch beyond the knee, by the square: a tenth down at sqrt(0.4).
    const sagging = truth({ sag: { knee: 4, reach: 1, depth: 0.25 } });
    expect(sagging.plateau).toBeCloseTo(4, 6);
    expect(sagging.high).toBeCloseTo(4 + Math.sqrt(0.4), 6);
  });
});

describe('the oracle fit', () => {
  it.each(['two shoulders', 'clipped', 'flame lost', 'uneven shoulders'] as const)(
    '%s: without noise of the signal it finds the ends within the noise of one manometer reading',
    (kind) => {
      const drawn = drawSweep(kind, 4);
      const facts = { ...drawn.facts, white: 1e-5, flicker: 0, digits: { pressure: 1e-6, signal: 1e-6 } };
      const simulated = simulateSweep(facts, 1);
      const found = oracleAnswer({ ...drawn, ...simulated, facts, uncorrupted: simulated.readings })!;
      expect(Math.abs(found.low! - drawn.truth.low!)).toBeLessThan(0.003);
      expect(Math.abs(found.high! - drawn.truth.high!)).toBeLessThan(0.003);
    },
  );
});

describe('worker threads', () => {
  it('give the verdicts of one thread, in the order of the tasks', async () => {
    const tasks = [
      { kind: 'low end only', seed: 3 },
      { kind: 'neither end', seed: 1 },
    ] as const;
    const verdicts = await inParallel(new URL('coverage/judge-sweep.ts', import.meta.url), tasks, () => undefined);
    expect(verdicts).toEqual(tasks.map(run));
  });
});
