/** A point in a plane: pressure and spark delay, or any other two quantities. */
export type Point = readonly [x: number, y: number];

/** Twice the area of a triangle; positive where `c` lies left of the way from `a` to `b`. */
const turn = (a: Point, b: Point, c: Point): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/**
 * The convex hull of points, its corners counterclockwise without those on an edge; one or two points for what has no area.
 * Source: Andrew 1979, Information Processing Letters 9, 216 (monotone chain).
 */
export function convexHull(points: readonly Point[]): Point[] {
  const sorted = points
    .toSorted((a, b) => a[0] - b[0] || a[1] - b[1])
    .filter((point, i, all) => i === 0 || point[0] !== all[i - 1]![0] || point[1] !== all[i - 1]![1]);
  if (sorted.length < 3) return sorted;
  const chain = (way: readonly Point[]): Point[] => {
    const found: Point[] = [];
    for (const point of way) {
      while (found.length >= 2 && turn(found.at(-2)!, found.at(-1)!, point) <= 0) found.pop();
      found.push(point);
    }
    return found.slice(0, -1);
  };
  return [...chain(sorted), ...chain(sorted.toReversed())];
}

/** Whether a point lies in the convex hull of points, its edge included, but for a billionth of their spread. */
export function isInHull(points: readonly Point[], point: Point): boolean {
  const spread = (axis: 0 | 1) => Math.max(...points.map((p) => p[axis])) - Math.min(...points.map((p) => p[axis]));
  const scales = [spread(0) || 1, spread(1) || 1] as const;
  // Seen from the point, no half-plane is free of them.
  const seen = points.map((p) => [(p[0] - point[0]) / scales[0], (p[1] - point[1]) / scales[1]] as const);
  if (seen.some(([x, y]) => Math.hypot(x, y) < 1e-9)) return true;
  const angles = seen.map(([x, y]) => Math.atan2(y, x)).toSorted((a, b) => a - b);
  const gaps = angles.map((angle, i) => (angles[i + 1] ?? angles[0]! + 2 * Math.PI) - angle);
  return Math.max(...gaps) <= Math.PI + 1e-9;
}

/** The part of a convex polygon where the coordinate of an axis is at most a limit (`sign` 1), or at least one (-1). */
export function clipped(polygon: readonly Point[], axis: 0 | 1, limit: number, sign: 1 | -1): Point[] {
  const depth = (point: Point) => sign * (limit - point[axis]);
  return polygon.flatMap((point, i): Point[] => {
    const next = polygon[(i + 1) % polygon.length]!;
    const [here, there] = [depth(point), depth(next)];
    const crossing = (): Point => {
      const share = here / (here - there);
      return axis === 0
        ? [limit, point[1] + share * (next[1] - point[1])]
        : [point[0] + share * (next[0] - point[0]), limit];
    };
    return [...(here >= 0 ? [point] : []), ...(here * there < 0 ? [crossing()] : [])];
  });
}
