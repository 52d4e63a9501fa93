import { describe, expect, it } from 'vitest';
import { conformanceProbability } from '../../shared/analysis/conformance.ts';
import { reference } from './reference.ts';

// Sources: JCGM 106:2012, clauses 7 and 8.3; the Zener diode's printed 0.92 is from memory, the rest computed with SciPy.
describe('conformance probability', () => {
  type Case = { T_L: number | null; T_U: number | null; y: number; u: number; p_conform: number };
  type Multiplier = { p_conform_at_acceptance_limit: number; z: number };
  const { expected } = reference<unknown, { cases: Case[]; guard_band_multipliers: Multiplier[] }>(
    'jcgm106-conformance-probability',
  );
  const limit = (value: number | null, u: number) => (value === null ? undefined : { value, u });

  it.each(expected.cases)('is $p_conform at $y with u = $u in [$T_L, $T_U]', ({ T_L, T_U, y, u, p_conform }) => {
    expect(Math.abs(conformanceProbability(y, limit(T_L, u), limit(T_U, u)) - p_conform)).toBeLessThan(1e-12);
  });

  it.each(expected.guard_band_multipliers)(
    'is $p_conform_at_acceptance_limit where the limit lies $z u away',
    ({ z, p_conform_at_acceptance_limit: p }) => {
      expect(Math.abs(conformanceProbability(2 + z * 0.05, { value: 2, u: 0.05 }, undefined) - p)).toBeLessThan(1e-12);
    },
  );

  it('is all or nothing where nothing is in doubt', () => {
    const low = { value: 1, u: 0 };
    const high = { value: 3, u: 0 };
    expect([0.9, 1, 2, 3, 3.1].map((value) => conformanceProbability(value, low, high))).toEqual([0, 0.5, 1, 0.5, 0]);
  });
});

// Source: JCGM 106:2012, clause 9.5: risks of a whole production, as the published examples give them. They integrate the
// probability that a measured value falls within the acceptance limits over all true values.
describe('global risks made of it', () => {
  /** Simpson's rule over [from, to] in 4000 steps. */
  const integral = (f: (x: number) => number, from: number, to: number) => {
    const h = (to - from) / 4000;
    let sum = f(from) + f(to);
    for (let i = 1; i < 4000; i += 1) sum += (i % 2 === 1 ? 4 : 2) * f(from + i * h);
    return (sum * h) / 3;
  };

  it('agree for 1500 ohm resistors', () => {
    type Case = { A_L: number; A_U: number; consumer_risk: number; producer_risk: number };
    const { inputs, expected } = reference<
      { y0: number; u0: number; u_m: number; T_L: number; T_U: number },
      { cases: Case[] }
    >('jcgm106-global-risk-resistors');
    const { y0, u0, u_m: u, T_L, T_U } = inputs;
    const made = (x: number) => Math.exp(-0.5 * ((x - y0) / u0) ** 2) / (u0 * Math.sqrt(2 * Math.PI));
    for (const { A_L, A_U, consumer_risk, producer_risk } of expected.cases) {
      const accepted = (x: number) => conformanceProbability(x, { value: A_L, u }, { value: A_U, u });
      const wrong = (x: number) => made(x) * accepted(x);
      const consumer = integral(wrong, y0 - 9 * u0, T_L) + integral(wrong, T_U, y0 + 9 * u0);
      expect(Math.abs(consumer - consumer_risk)).toBeLessThan(1e-9);
      const producer = integral((x) => made(x) * (1 - accepted(x)), T_L, T_U);
      expect(Math.abs(producer - producer_risk)).toBeLessThan(1e-9);
    }
  });

  it('agree for the radial error motion of ball bearings', () => {
    type Inputs = { u_m_um: number; T_U_um: number };
    const { inputs, expected } = reference<Inputs, Record<string, number>>('jcgm106-ball-bearings');
    const { u_m_um: u, T_U_um: most } = inputs;
    // Gamma of shape 4 and rate 4, as the file's prior says.
    const made = (x: number) => (256 * x ** 3 * Math.exp(-4 * x)) / 6;
    const risk = (limit: number) =>
      integral((x) => made(x) * conformanceProbability(x, undefined, { value: limit, u }), most, most + 12);
    expect(Math.abs(risk(most) - expected['consumer_risk_A=T']!)).toBeLessThan(1e-9);
    expect(Math.abs(risk(expected['acceptance_limit_for_Rc_0.001']!) - 0.001)).toBeLessThan(1e-9);
  });
});
