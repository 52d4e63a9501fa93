import { useMemo } from 'react';
import { usePlotArea, useXAxisScale, useYAxisScale } from 'recharts';

/** From values to pixels of the plot, and its area between the axes. */
export interface Scales {
  x: (value: number) => number;
  y: (value: number) => number;
  area: { x: number; y: number; width: number; height: number };
}

/**
 * The scales of the surrounding chart, whose axes are linear; undefined until it is laid out. A new object only when one of them changed,
 * however often the chart is rendered: what was drawn by it stays.
 */
export function useScales(): Scales | undefined {
  const xScale = useXAxisScale();
  const yScale = useYAxisScale();
  const area = usePlotArea();
  const [x0, x1] = [xScale?.(0), xScale?.(1)];
  const [y0, y1] = [yScale?.(0), yScale?.(1)];
  const { x = 0, y = 0, width = 0, height = 0 } = area ?? {};
  return useMemo(() => {
    if (x0 === undefined || x1 === undefined || y0 === undefined || y1 === undefined) return undefined;
    if (!(width > 0 && height > 0)) return undefined;
    return { x: linear(x0, x1), y: linear(y0, y1), area: { x, y, width, height } };
  }, [x0, x1, y0, y1, x, y, width, height]);
}

/** From values to pixels by the pixels of 0 and of 1. */
const linear = (zero: number, one: number) => (value: number) => zero + (one - zero) * value;

/** All of `values` in pixels. */
export const toPixels = (values: ArrayLike<number>, length: number, scale: (value: number) => number): Float64Array =>
  Float64Array.from({ length }, (_, i) => scale(values[i]!));
