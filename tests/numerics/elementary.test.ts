import { describe, expect, it } from 'vitest';
import { exp, log, log1p } from '../../shared/numerics/elementary.ts';
import { createRandom } from '../../shared/numerics/random.ts';

/** How many doubles apart two numbers of one sign are. */
function steps(a: number, b: number): number {
  const [x, y] = new BigInt64Array(Float64Array.of(a, b).buffer);
  return Number(x! > y! ? x! - y! : y! - x!);
}

/** Largest distance from the engine's function, itself within a digit or so of the truth, over random arguments. */
function farthest(own: (x: number) => number, engine: (x: number) => number, draw: (u: number) => number): number {
  const random = createRandom(1);
  let most = 0;
  for (let k = 0; k < 200_000; k += 1) {
    const x = draw(random.uniform());
    most = Math.max(most, steps(own(x), engine(x)));
  }
  return most;
}

describe('exp and log', () => {
  it('give the constants of ECMA-262, 21.3.1', () => {
    expect(steps(exp(1), Math.E)).toBeLessThanOrEqual(1);
    expect(steps(log(10), Math.LN10)).toBeLessThanOrEqual(1);
    expect(steps(log(2), Math.LN2)).toBeLessThanOrEqual(1);
  });
  it('are within one double of the engine over their whole range', () => {
    expect(farthest(exp, Math.exp, (u) => 1480 * u - 760)).toBeLessThanOrEqual(1);
    expect(farthest(exp, Math.exp, (u) => 4 * u - 2)).toBeLessThanOrEqual(1);
    expect(farthest(log, Math.log, (u) => 2 ** (2000 * u - 1000))).toBeLessThanOrEqual(1);
    expect(farthest(log, Math.log, (u) => 0.5 + 1.5 * u)).toBeLessThanOrEqual(1);
  });
  it('log1p keeps the digits of small arguments', () => {
    expect(farthest(log1p, Math.log1p, (u) => (u - 0.5) * 0.02)).toBeLessThanOrEqual(4);
    // ln(1 + x) = x - x^2 / 2 + ...
    expect(log1p(1e-20)).toBe(1e-20);
    expect(log1p(-1e-10)).toBeCloseTo(-1.00000000005e-10, 25);
  });
  it('have the limits of IEEE 754', () => {
    expect([exp(710), exp(-746), exp(0), exp(Infinity), exp(-Infinity)]).toEqual([Infinity, 0, 1, Infinity, 0]);
    expect([log(0), log(1), log(Infinity)]).toEqual([-Infinity, 0, Infinity]);
    expect([log(-1), log(Number.NaN), exp(Number.NaN)]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
    expect(exp(-745)).toBe(5e-324);
    expect(log(5e-324)).toBeCloseTo(-744.4400719213812, 9);
    expect(log1p(-1)).toBe(-Infinity);
  });
});
