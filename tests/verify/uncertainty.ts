import { combineUncertainty, coverageFactor } from '../../shared/numerics/uncertainty.ts';
import { type Check, compareLists, halfUnit, reference, type Row } from './check.ts';

interface Part {
  u: number;
  dof: number;
}

interface Rectangle {
  half_width: number;
  dof: number;
}

interface Inputs {
  l_s: Part & { value_nm: number };
  d_mean: Part;
  d1_random: Part;
  d2_systematic: Part;
  alpha_s: { value: number };
  delta_alpha: Rectangle;
  delta_theta: Rectangle;
  theta_mean: { value: number };
}

interface Expected {
  published_rounded: Record<'u_d_nm' | 'uc_nm' | 'k_t99_16' | 'U99_nm', number> &
    Record<'contribution_delta_alpha_nm' | 'contribution_delta_theta_nm', number>;
  unrounded: Record<'u_d_nm' | 'dof_d' | 'uc_nm' | 'dof_eff' | 't99_dof16' | 'U99_nm_with_dof16', number> & {
    contributions_nm: { delta_alpha: number; delta_theta: number };
  };
}

function endGauge(): Row[] {
  const { inputs, expected, tolerance } = reference<Inputs, Expected>('gum-h1-end-gauge');
  const { published_rounded: printed, unrounded } = expected;
  const part = ({ u, dof }: Part) => ({ u, degrees: dof });
  const rectangle = ({ half_width: half, dof }: Rectangle, sensitivity: number) => ({
    u: Math.abs(sensitivity) * (half / Math.sqrt(3)),
    degrees: dof,
  });
  const difference = combineUncertainty([part(inputs.d_mean), part(inputs.d1_random), part(inputs.d2_systematic)]);
  // Sensitivities of l = l_s + d - l_s (delta_alpha theta + alpha_s delta_theta) at its values, H.1.3.
  const alpha = rectangle(inputs.delta_alpha, inputs.l_s.value_nm * inputs.theta_mean.value);
  const theta = rectangle(inputs.delta_theta, inputs.l_s.value_nm * inputs.alpha_s.value);
  const all = combineUncertainty([part(inputs.l_s), difference, alpha, theta]);
  const k = coverageFactor(0.99, Math.floor(all.degrees));
  const { delta_alpha, delta_theta } = unrounded.contributions_nm;
  const named = ['u of the difference, nm', 'u by expansion, nm', 'u by temperature, nm', 'u of the length, nm'];
  return [
    ...compareLists(
      [...named, 'degrees of the difference', 'degrees of the length', 'k for 99 %', 'U for 99 %, nm'],
      [
        unrounded.u_d_nm,
        delta_alpha,
        delta_theta,
        unrounded.uc_nm,
        unrounded.dof_d,
        unrounded.dof_eff,
        unrounded.t99_dof16,
        unrounded.U99_nm_with_dof16,
      ],
      [difference.u, alpha.u, theta.u, all.u, difference.degrees, all.degrees, k, k * all.u],
      { relative: tolerance['unrounded_rel']! },
    ),
    ...compareLists(
      named.slice(0, 3).map((name) => `${name}, printed`),
      [printed.u_d_nm, printed.contribution_delta_alpha_nm, printed.contribution_delta_theta_nm],
      [difference.u, alpha.u, theta.u],
      halfUnit(1),
    ),
    ...compareLists(['u of the length, nm, printed'], [printed.uc_nm], [all.u], halfUnit(0)),
    ...compareLists(['k for 99 %, printed'], [printed.k_t99_16], [k], halfUnit(2)),
    ...compareLists(['U for 99 % of the printed u, nm'], [printed.U99_nm], [k * printed.uc_nm], halfUnit(0)),
    { quantity: 'degrees, printed', notCompared: 'the GUM puts rounded contributions in' },
  ];
}

export const uncertainty: Check[] = [
  {
    subject: 'Uncertainty and conformance',
    name: 'End gauge: combined and expanded uncertainty',
    of: 'combineUncertainty, coverageFactor',
    source: 'GUM (JCGM 100:2008) H.1',
    origin: 'from memory',
    file: 'gum-h1-end-gauge',
    run: endGauge,
  },
];
