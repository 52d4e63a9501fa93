import { varianceInflation } from '../../../numerics/autocorrelation.ts';
import { splineCount } from '../../../numerics/b-spline.ts';
import { addRow, emptyNormalForm, logEvidence, type NormalForm } from '../../../numerics/linear/evidence.ts';
import type { DarkStretch } from '../../sweep/flame/flame-loss.ts';
import { effectiveParameters } from '../effective-sample-size.ts';
import type { FitData } from '../fit-data.ts';
import { type CurveFit, type FitOptions, fitShape } from '../fit-shape.ts';
import { swingOf } from '../priors.ts';
import { knotsFor } from './knots.ts';

/** Sizes that are tried, as shares of the plateau: from as good as nothing to what a shoulder of quite another form leaves. */
const sizes = [0.001, 0.002, 0.004, 0.008, 0.016, 0.032];
/** The size with which the discrepancy is fitted first: wide, so that the noise does not contain it. */
const wideSize = 0.02;
/**
 * By how much the evidence must grow where the flame was lost: the fall of the signal after it, and any sparks, may pass for another curve. A
 * logarithm of 5 is very strong evidence already (Kass and Raftery 1995, JASA 90, 773).
 */
const decisive = 10;
/** The first fit only shows which size is likeliest. */
const firstLook = { tolerance: 1e-3, correlated: true };
/** Both start from a fit that is as precise as the answer needs; a spline only adds to it, and hardly to what is not linear. */
const fromPlain = { tolerance: 1e-5, correlated: true };

/**
 * The fit, free to leave its shoulders and its plateau where the readings do, by as much as they suggest themselves. A curve that is none of
 * the model's is then followed, and what is not known of its form is part of every interval; one that is stays as it is.
 * Where the top of the curve is hidden, or there is no shoulder, the fit as it was.
 * Sources: Kennedy and O'Hagan 2001, J. Royal Stat. Soc. B 63, 425 (model discrepancy); Eilers and Marx 1996, Statistical Science 11, 89
 * (splines with a penalty).
 *
 * @param losses  the flame losses of the fit, as many as it has
 */
export function withDiscrepancy(data: FitData, plain: CurveFit, losses: DarkStretch[]): CurveFit {
  const { clipped, lowShoulder, highShoulder } = plain.shape;
  const isHidden = clipped || plain.range.top !== undefined;
  if (isHidden || !(lowShoulder || highShoulder)) return plain;
  const knots = knotsFor(plain);
  const fitOf = (size: number, options: FitOptions) =>
    fitShape(data, { ...plain.shape, discrepancy: { knots, size } }, losses, plain, options);
  const wide = fitOf(wideSize, firstLook);
  if (!(wide.deviance < Infinity)) return plain;
  const { size, gain } = likeliestSize(wide, data);
  if (size === sizes[0] || (losses.length > 0 && gain < decisive)) return plain;
  const fit = fitOf(size, fromPlain);
  return fit.deviance < Infinity ? fit : plain;
}

/**
 * The size of the discrepancy for which the readings are most probable, as a share of the plateau, and by how much the logarithm of its
 * evidence is larger than that of the smallest size.
 */
function likeliestSize(wide: CurveFit, data: FitData): { size: number; gain: number } {
  const from = wide.layout.discrepancy;
  const to = from + splineCount(wide.layout.knots);
  const form = normalFormOf(wide, from, to);
  const evidence = sizes.map((size) => logEvidence(form, from, to, size * swingOf(data.initial)));
  const most = Math.max(...evidence);
  return { size: sizes[evidence.indexOf(most)]!, gain: most - evidence[0]! };
}

/**
 * The readings, linear about a fit, and its priors but those of coefficients `from` to `to`. The noise that is left correlated counts as
 * much as it inflates variances.
 */
function normalFormOf(wide: CurveFit, from: number, to: number): NormalForm {
  const { fit, whitenedResidual } = wide;
  const { jacobian, residuals, parameters: x } = fit;
  const [n, m] = [x.length, whitenedResidual.length];
  let rss = 0;
  for (let i = 0; i < m; i += 1) rss += residuals[i]! ** 2;
  const variance = varianceInflation(whitenedResidual) * Math.max(1, rss / Math.max(1, m - effectiveParameters(wide)));
  const form = emptyNormalForm(n);
  for (let i = 0; i < residuals.length; i += 1) {
    const row = jacobian.subarray(i * n, (i + 1) * n);
    if (i >= m && row.subarray(from, to).some((value) => value !== 0)) continue;
    const target = row.reduce((sum, value, j) => sum + value * x[j]!, -residuals[i]!);
    addRow(form, row, target, i < m ? 1 / variance : 1);
  }
  return form;
}
