import { round } from './scale.ts';

/** Patterns of the stretches of a time line, on the screen and on paper. */
export const stretchPatterns = ['empty', 'hatched', 'filled', 'crossed', 'dotted'] as const;
export type StretchPattern = (typeof stretchPatterns)[number];

/** A rectangle in pixels. */
export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Pixels from line to line of a hatch, and from dot to dot. */
const step = 6;

/**
 * The outline of a stretch with its pattern as one SVG path, to be stroked; a `filled` one is to be filled as well. Lines of neighboring
 * stretches meet, as they start from multiples of the same step.
 */
export function stretchPath(pattern: StretchPattern, box: Box): string {
  const { x, y, width, height } = box;
  const outline = `M${round(x)} ${round(y)}h${round(width)}v${round(height)}h${round(-width)}z`;
  switch (pattern) {
    case 'empty':
    case 'filled':
      return outline;
    case 'hatched':
      return outline + diagonals(box, 'rising');
    case 'crossed':
      return outline + diagonals(box, 'rising') + diagonals(box, 'falling');
    case 'dotted':
      return outline + dots(box);
  }
}

/** Diagonal lines that end at the edges of the box. */
function diagonals({ x, y, width, height }: Box, way: 'rising' | 'falling'): string {
  let path = '';
  for (let from = Math.ceil((x - height) / step) * step; from < x + width; from += step) {
    const left = Math.max(from, x);
    const right = Math.min(from + height, x + width);
    if (right <= left) continue;
    // A line rises by one pixel in one, from the bottom at `from`.
    const at = (px: number) => (way === 'rising' ? y + height - (px - from) : y + (px - from));
    path += `M${round(left)} ${round(at(left))}L${round(right)} ${round(at(right))}`;
  }
  return path;
}

function dots({ x, y, width, height }: Box): string {
  let path = '';
  for (let px = Math.ceil(x / step) * step; px <= x + width - 2; px += step)
    path += `M${round(px)} ${round(y + height / 2)}h2`;
  return path;
}
