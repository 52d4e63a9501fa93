import { describe, expect, it } from 'vitest';
import { combine, coverageFactor } from '../../shared/analysis/uncertainty.ts';
import { reference } from './reference.ts';

// JCGM 100:2008 (GUM), example H.1: calibration of an end gauge. Printed figures from memory, then computed, as the file says.
describe('GUM example H.1', () => {
  type Part = { u: number; dof: number };
  type Inputs = {
    l_s: Part;
    d_mean: Part;
    d1_random: Part;
    d2_systematic: Part;
    delta_alpha: { dof: number };
    delta_theta: { dof: number };
  };
  type Expected = {
    published_rounded: { uc_nm: number; U99_nm: number; k_t99_16: number };
    unrounded: {
      u_d_nm: number;
      dof_d: number;
      uc_nm: number;
      dof_eff: number;
      t99_dof16: number;
      contributions_nm: { delta_alpha: number; delta_theta: number };
    };
  };
  const { inputs, expected } = reference<Inputs, Expected>('gum-h1-end-gauge');
  const { unrounded, published_rounded: printed } = expected;
  const part = ({ u, dof }: Part) => ({ u, degrees: dof });
  const within = (found: number, wanted: number) => expect(Math.abs(found / wanted - 1)).toBeLessThan(1e-9);

  const d = combine([part(inputs.d_mean), part(inputs.d1_random), part(inputs.d2_systematic)]);
  const all = combine([
    part(inputs.l_s),
    d,
    { u: unrounded.contributions_nm.delta_alpha, degrees: inputs.delta_alpha.dof },
    { u: unrounded.contributions_nm.delta_theta, degrees: inputs.delta_theta.dof },
  ]);

  it('joins the parts of the measured difference', () => {
    within(d.u, unrounded.u_d_nm);
    within(d.degrees, unrounded.dof_d);
  });

  it('joins everything, with its effective degrees of freedom', () => {
    within(all.u, unrounded.uc_nm);
    within(all.degrees, unrounded.dof_eff);
    expect(Math.round(all.u)).toBe(printed.uc_nm);
  });

  it('gives the printed expanded uncertainty for 99 %', () => {
    within(coverageFactor(0.99, Math.floor(all.degrees)), unrounded.t99_dof16);
    // The printed 93 nm comes from the rounded 32 nm.
    expect(Math.round(coverageFactor(0.99, Math.floor(all.degrees)) * printed.uc_nm)).toBe(printed.U99_nm);
  });
});

describe('joining contributions', () => {
  it('knows what has no doubt, and keeps constants out of the degrees', () => {
    expect(combine([])).toEqual({ u: 0, degrees: Infinity });
    expect(combine([{ u: 0, degrees: 3 }])).toEqual({ u: 0, degrees: Infinity });
    // From G.4.1 by hand: 5^4 / (3^4 / 9) = 625 / 9.
    expect(
      combine([
        { u: 3, degrees: 9 },
        { u: 4, degrees: Infinity },
      ]).degrees,
    ).toBeCloseTo(625 / 9, 10);
  });

  it('neither overflows nor vanishes with the unit', () => {
    for (const unit of [1e-120, 1e120]) {
      const joined = combine([
        { u: 3 * unit, degrees: 9 },
        { u: 4 * unit, degrees: Infinity },
      ]);
      expect(joined.u / unit).toBeCloseTo(5, 10);
      expect(joined.degrees).toBeCloseTo(625 / 9, 10);
    }
  });
});
