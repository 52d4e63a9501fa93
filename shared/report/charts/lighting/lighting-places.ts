import type { Point } from '../../../light-off/hull.ts';
import type { LightingView } from '../../../model/results/lighting-view.ts';
import { hatchPath, outlinePath } from './hatch.ts';
import { round } from '../scale.ts';

/** Where trials of one result lie, in pixels, and how many; those at one place are one mark. */
export interface TriedPlace {
  x: number;
  y: number;
  lit: boolean;
  count: number;
  /** It stands on this side of a mark of the other result at the same place. */
  beside?: 'left' | 'right';
}

/** What the picture of pressure against spark delay shows, on the screen and on paper; paths in pixels. */
export interface LightingPlaces {
  places: TriedPlace[];
  /** Across and around all that was tried: to be stroked. */
  hatch: string;
  outline: string;
  /** Around what is shown to light, piece by piece: to be stroked and filled. */
  proved: string;
}

/** Marks whose centers are nearer than this would hide each other, pixels. */
const sharedPx = 6;
/**
 * A success and a failure at the same place stand side by side, each this much from it: both are seen, and neither has another delay, which
 * a trial on the axis of the spark at once would be read to have.
 */
const besidePx = 7;

/** Lays out the trials and the regions by the scales of a chart. */
export function lightingPlaces(
  { tried, regions }: LightingView,
  x: (pressure: number) => number,
  y: (delayS: number) => number,
): LightingPlaces {
  const places: TriedPlace[] = [];
  for (const { pressure, delayS, lit } of tried) {
    const [px, py] = [x(pressure), y(delayS)];
    const there = places.find((place) => place.lit === lit && Math.hypot(place.x - px, place.y - py) < sharedPx);
    if (there) there.count += 1;
    else places.push({ x: px, y: py, lit, count: 1 });
  }
  const failures = places.filter(({ lit }) => !lit);
  for (const place of places.filter(({ lit }) => lit)) {
    // At another delay both are seen where they are, and aside they would be read to have another pressure.
    const failed = failures.find(
      (other) =>
        !other.beside &&
        Math.abs(other.y - place.y) < sharedPx &&
        Math.hypot(other.x - place.x, other.y - place.y) < 2 * besidePx,
    );
    if (!failed) continue;
    const middle = (place.x + failed.x) / 2;
    Object.assign(place, { x: middle - besidePx, beside: 'left' });
    Object.assign(failed, { x: middle + besidePx, beside: 'right' });
  }
  const inPixels = (corners: readonly Point[]): Point[] => corners.map(([p, d]) => [x(p), y(d)]);
  const all = inPixels(regions?.tried ?? []);
  return {
    places,
    hatch: all.length > 2 ? hatchPath(all) : '',
    outline: outlinePath(all),
    proved: (regions?.proved ?? []).map((piece) => outlinePath(inPixels(piece))).join(''),
  };
}

/** A band narrower than this is a bar: its own line would cover it, pixels. */
const narrowPx = 6;

/**
 * An upright bar with a crossbar at the estimate, as one path to be stroked, for each side on which one pressure only was tried with the
 * spark at once, or pressures that the chart does not tell apart: a band of no width would not be seen. Pixels.
 */
export function errorBarPath(
  { pressure, probability, low, high }: LightingView['band'],
  x: (pressure: number) => number,
  y: (percent: number) => number,
): string {
  let path = '';
  for (let from = 0; from < pressure.length; from += 1) {
    if (!Number.isFinite(pressure[from])) continue;
    let to = from;
    while (Number.isFinite(pressure[to + 1])) to += 1;
    const i = (from + to) >> 1;
    if (x(pressure[to]!) - x(pressure[from]!) < narrowPx)
      path += `M${round(x(pressure[i]!))} ${round(y(low[i]!))}V${round(y(high[i]!))}M${round(x(pressure[i]!) - 6)} ${round(y(probability[i]!))}h12`;
    from = to;
  }
  return path;
}
