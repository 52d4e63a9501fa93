import type { Point } from '../../../light-off/hull.ts';
import { round } from '../scale.ts';

/** Pixels from line to line. */
const step = 7;

/** The outline of a polygon as one SVG path; of two corners a line, of one a point that a round stroke shows. Pixels. */
export const outlinePath = (corners: readonly Point[]): string =>
  corners.length === 0 ? '' : `M${corners.map(([x, y]) => `${round(x)} ${round(y)}`).join('L')}Z`;

/** Falling diagonals across a convex polygon as one SVG path, from edge to edge. Pixels. */
export function hatchPath(corners: readonly Point[]): string {
  const sums = corners.map(([x, y]) => x + y);
  let path = '';
  // On a line x + y is the same all along.
  for (let sum = Math.ceil(Math.min(...sums) / step) * step; sum < Math.max(...sums); sum += step) {
    const cuts = corners.flatMap((a, i): Point[] => {
      const b = corners[(i + 1) % corners.length]!;
      const [from, to] = [a[0] + a[1], b[0] + b[1]];
      if (from === to || (sum - from) * (sum - to) > 0) return [];
      const share = (sum - from) / (to - from);
      return [[a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]];
    });
    const [first, last] = [cuts.toSorted((a, b) => a[0] - b[0])[0], cuts.toSorted((a, b) => b[0] - a[0])[0]];
    if (first && last && last[0] > first[0])
      path += `M${round(first[0])} ${round(first[1])}L${round(last[0])} ${round(last[1])}`;
  }
  return path;
}
