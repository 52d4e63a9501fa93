/** Cubic splines of one set of knots: four fewer than knots. */
export const splineCount = (knots: ArrayLike<number>): number => Math.max(0, knots.length - 4);

/**
 * The four cubic B-splines that are not zero at `p`, by the recursion of de Boor and Cox. They sum to 1. Outside the range that the splines
 * cover, from the fourth knot to the fourth from the end, the values are those of its nearer end.
 * Source: de Boor 1978, A Practical Guide to Splines, chapter X.
 *
 * @param knots  rising, at least eight
 * @param into   receives the four values
 * @returns the index of the first of the four splines
 */
export function cubicSplinesAt(knots: ArrayLike<number>, p: number, into: Float64Array): number {
  const last = knots.length - 5;
  let span = 3;
  while (span < last && p >= knots[span + 1]!) span += 1;
  const at = Math.min(knots[last + 1]!, Math.max(knots[3]!, p));
  into[0] = 1;
  for (let degree = 1; degree <= 3; degree += 1) {
    let carried = 0;
    for (let k = 0; k < degree; k += 1) {
      const right = knots[span + k + 1]! - at;
      const left = at - knots[span + k + 1 - degree]!;
      const share = into[k]! / (right + left);
      into[k] = carried + right * share;
      carried = left * share;
    }
    into[degree] = carried;
  }
  return span - 3;
}
