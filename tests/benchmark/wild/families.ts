/** Families of steady signal curves, none of them taken from the analysis; pressures in inH2O. */
import type { Random } from '../../../shared/numerics/random.ts';

/** A curve as a share of its full height at a pressure, for parameters that may be estimated. */
export interface Family {
  /** Parameters of one burner, drawn. */
  draw: (between: (a: number, b: number) => number) => number[];
  /** Share of the full signal, 0 to 1. */
  share: (x: readonly number[], pressure: number) => number;
}

/** Two sides, each 1 far inside: `low` by its distance above the first place, `high` by that below the second, in widths. */
const twoSided = (side: (distance: number) => number, widths: [number, number]): Family => ({
  draw: (between) => [between(0.9, 1.5), between(...widths), between(3.4, 4.6), 1.4 * between(...widths)],
  share: ([low, lowWidth, high, highWidth], p) => side((p - low!) / lowWidth!) * side((high! - p) / highWidth!),
});

/** Error function by Abramowitz and Stegun 7.1.26 (error below 1.5e-7). */
function erf(x: number): number {
  const t = 1 / (1 + 0.3275911 * Math.abs(x));
  const poly = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  return Math.sign(x) * (1 - poly * Math.exp(-x * x));
}

const smoothstep = (x: number) => (x <= 0 ? 0 : x >= 1 ? 1 : x * x * (3 - 2 * x));

export const families = {
  logistic: twoSided((x) => 1 / (1 + Math.exp(-x)), [0.04, 0.13]),
  'normal distribution': twoSided((x) => (1 + erf(x / Math.SQRT2)) / 2, [0.08, 0.2]),
  'arc tangent': twoSided((x) => Math.max(0, 0.5 + Math.atan(x) / Math.PI), [0.02, 0.05]),
  smoothstep: twoSided((x) => smoothstep(0.5 + x / 2), [0.12, 0.35]),
  Gompertz: twoSided((x) => Math.exp(-Math.exp(-x)), [0.05, 0.15]),
  exponential: twoSided((x) => (x <= 0 ? 0 : 1 - Math.exp(-x)), [0.08, 0.25]),
  'raised cosine': twoSided((x) => (x <= -1 ? 0 : x >= 1 ? 1 : (1 + Math.sin((Math.PI * x) / 2)) / 2), [0.12, 0.35]),
  Hill: {
    draw: (between) => [between(0.9, 1.4), between(8, 16), between(3.6, 4.8), between(10, 20)],
    share: ([low, n, high, k], p) => {
      const q = Math.max(p, 1e-3);
      return 1 / (1 + (low! / q) ** n!) / (1 + (q / high!) ** k!);
    },
  },
  'power law': {
    draw: (between) => [between(0.8, 1.2), between(5, 9), between(4, 5), between(7, 12)],
    share: ([low, n, high, k], p) =>
      Math.max(0, 1 - (low! / Math.max(p, 1e-3)) ** n!) * Math.max(0, 1 - (p / high!) ** k!),
  },
  hump: {
    draw: (between) => [between(2.3, 2.9), between(1.1, 1.6)],
    share: ([middle, half], p) => 0.5 ** (((p - middle!) / half!) ** 2),
  },
  'skewed hump': {
    draw: (between) => [between(1.9, 2.3), between(0.7, 1.0), between(1.4, 2)],
    share: ([middle, below, above], p) => 0.5 ** (((p - middle!) / (p < middle! ? below! : above!)) ** 2),
  },
  'flat hump': {
    draw: (between) => [between(2.4, 2.8), between(1.3, 1.8)],
    share: ([middle, half], p) => 0.5 ** (((p - middle!) / half!) ** 4),
  },
  'logistic and power law': {
    draw: (between) => [between(0.9, 1.5), between(0.04, 0.12), between(4, 5), between(7, 12)],
    share: ([low, width, high, k], p) =>
      (1 / (1 + Math.exp(-(p - low!) / width!))) * Math.max(0, 1 - 0.5 * (Math.max(p, 0) / high!) ** k!),
  },
  'tilted plateau': {
    draw: (between) => [
      between(0.9, 1.5),
      between(0.04, 0.12),
      between(3.5, 4.6),
      between(0.05, 0.18),
      between(-0.02, 0.02),
    ],
    share: ([low, lowWidth, high, highWidth, tilt], p) =>
      (1 + tilt! * (p - 2.6)) / (1 + Math.exp(-(p - low!) / lowWidth!)) / (1 + Math.exp(-(high! - p) / highWidth!)),
  },
} satisfies Record<string, Family>;

export type FamilyName = keyof typeof families;
export const familyNames = Object.keys(families) as FamilyName[];

/** A steady curve of a burning flame before any meter: dark + height x share. `x`: dark, height, parameters of the family. */
export const steadySignal = (family: Family, x: readonly number[], pressure: number): number =>
  x[0]! + x[1]! * family.share(x.slice(2), pressure);

/** Random draws that kinds share. */
export interface Draws {
  random: Random;
  between: (a: number, b: number) => number;
  oneOf: <T>(values: readonly T[]) => T;
}
