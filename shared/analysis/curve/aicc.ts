import type { CurveFit } from './fit-shape.ts';

/** The fit with the smallest AICc after its handicap. */
export function smallestAicc(fits: readonly CurveFit[], handicap: readonly number[] = []): CurveFit {
  let best = fits[0]!;
  let smallest = Infinity;
  aiccOf(fits).forEach((value, i) => {
    const handicapped = value + (handicap[i] ?? 0);
    if (handicapped < smallest) [best, smallest] = [fits[i]!, handicapped];
  });
  return best;
}

/**
 * AICc of fits to the same readings. All are judged by one effective sample size, the largest that any of them leaves, and at least an
 * eighth of all readings: a bad fit leaves correlated residuals, which must not excuse it.
 */
export function aiccOf(fits: readonly CurveFit[]): number[] {
  const effectiveSize = Math.max(fits[0]!.residual.length / 8, ...fits.map((fit) => fit.effectiveSize));
  return fits.map((fit) => aicc(fit.deviance, fit.layout.size + 2, effectiveSize));
}

/**
 * Corrected Akaike information criterion.
 * Source: Hurvich and Tsai 1989, Biometrika 76, 297.
 *
 * @param deviance       -2 log likelihood per reading
 * @param k              parameters, those of the noise among them
 * @param effectiveSize  independent readings; taken as at least k + 3, so that the correction stays finite
 */
export function aicc(deviance: number, k: number, effectiveSize: number): number {
  const n = Math.max(effectiveSize, k + 3);
  return deviance * n + 2 * k + (2 * k * (k + 1)) / (n - k - 1);
}
