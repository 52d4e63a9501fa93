import { scaleLinear } from 'd3-scale';
import type { ScaleLinear } from 'd3-scale';

/** Where a value falls on the paper; NaN for what is not a number. */
export type Scale = ScaleLinear<number, number, number>;

/** Pixels to hundredths, which are enough, and keep a chart of thousands of marks short and the same everywhere. */
export const round = (pixels: number): number => Math.round(pixels * 100) / 100;

/** Straight-line scale from a span of values to a span of pixels. */
export const linearScale = (span: [number, number], pixels: [number, number]): Scale =>
  scaleLinear(span, pixels).unknown(Number.NaN);

/**
 * Round numbers for an axis: multiples of 1, 2 or 5 times a power of ten, about `count` of them, inside the scale's span, each with its
 * text. All have as many decimals as their step needs.
 */
export function ticksOf(scale: Scale, count: number): { value: number; text: string }[] {
  const text = scale.tickFormat(count, 'f');
  return scale.ticks(count).map((value) => ({ value, text: text(value) }));
}

/** No meter shows more, in any unit; a chart of such a number would show nothing else, or not even that. */
const largestShown = 1e15;
/** Nor less between two values. */
const smallestSpan = 1e-12;

/** The smallest and largest value that a chart can show; [0, 1] when there is none, widened when they are the same. */
export function extent(...series: Iterable<number>[]): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const values of series)
    for (const value of values) {
      if (!(Math.abs(value) <= largestShown)) continue;
      if (value < low) low = value;
      if (value > high) high = value;
    }
  if (low > high) return [0, 1];
  if (high - low < smallestSpan) return [low - 0.5, high + 0.5];
  return [low, high];
}

/** `span` with `share` of its width added at both ends. */
export const padded = ([low, high]: [number, number], share: number): [number, number] => [
  low - (high - low) * share,
  high + (high - low) * share,
];
