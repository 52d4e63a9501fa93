import { studentQuantile } from './distributions.ts';

/**
 * A component of uncertainty: a standard uncertainty and its degrees of freedom, infinite when it is known as well as a
 * constant.
 */
export interface Component {
  u: number;
  degrees: number;
}

/**
 * Combined standard uncertainty of independent components: root sum of squares, with its effective degrees of freedom.
 *
 * @param components  in the unit of the result; `degrees` above zero
 * Degrees are infinite when no component is above zero.
 * Source: JCGM 100:2008 (GUM), 5.1.2 and G.4.1 (Welch-Satterthwaite formula). Checked against its example H.1.
 */
export function combineUncertainty(components: Component[]): Component {
  const largest = components.reduce((most, { u }) => Math.max(most, Math.abs(u)), 0);
  if (largest === 0) return { u: 0, degrees: Infinity };
  let squares = 0;
  let fourths = 0;
  for (const { u, degrees } of components) {
    // As shares of the largest, so that no fourth power overflows or vanishes.
    const square = (u / largest) ** 2;
    squares += square;
    fourths += square ** 2 / degrees;
  }
  return { u: largest * Math.sqrt(squares), degrees: fourths > 0 ? squares ** 2 / fourths : Infinity };
}

/**
 * Coverage factor k, by which a standard uncertainty is multiplied for a two-sided interval at `confidence`: Student's quantile
 * on the effective degrees of freedom, not rounded down.
 * Source: JCGM 100:2008 (GUM), G.3.2 and G.6.4.
 */
export const coverageFactor = (confidence: number, degrees: number): number =>
  studentQuantile((1 + confidence) / 2, degrees);
