import type { Point } from '../../../light-off/hull.ts';
import type { LightingView } from '../../../model/lighting-view.ts';
import { hatchPath, outlinePath } from './hatch.ts';
import { round } from '../scale.ts';

/** Where trials of one result lie, in pixels, and how many; those at one place are one mark. */
export interface TriedPlace {
  x: number;
  y: number;
  lit: boolean;
  count: number;
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
/** A failure stands this much above a success at the same place, so that both are seen. */
const besidePx = 11;

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
  for (const place of places)
    if (!place.lit && places.some((other) => other.lit && Math.hypot(other.x - place.x, other.y - place.y) < besidePx))
      place.y -= besidePx;
  const inPixels = (corners: readonly Point[]): Point[] => corners.map(([p, d]) => [x(p), y(d)]);
  const all = inPixels(regions?.tried ?? []);
  return {
    places,
    hatch: all.length > 2 ? hatchPath(all) : '',
    outline: outlinePath(all),
    proved: (regions?.proved ?? []).map((piece) => outlinePath(inPixels(piece))).join(''),
  };
}

/**
 * An upright bar with a crossbar at the estimate, as one path to be stroked, for each side on which one pressure only was tried with the
 * spark at once: a band of no width would not be seen. Pixels.
 */
export function errorBarPath(
  { pressure, probability, low, high }: LightingView['band'],
  x: (pressure: number) => number,
  y: (percent: number) => number,
): string {
  const isNone = (i: number) => !Number.isFinite(pressure[i]);
  let path = '';
  pressure.forEach((p, i) => {
    if (isNone(i) || !isNone(i - 1) || !isNone(i + 1)) return;
    path += `M${round(x(p))} ${round(y(low[i]!))}V${round(y(high[i]!))}M${round(x(p) - 6)} ${round(y(probability[i]!))}h12`;
  });
  return path;
}
