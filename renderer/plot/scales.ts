import { useMemo } from 'react';
import { usePlotArea, useXAxisScale, useYAxisScale } from 'recharts';

/** From values to pixels of the plot, and its area between the axes. */
export interface Scales {
  x: (value: number) => number;
  y: (value: number) => number;
  area: { x: number; y: number; width: number; height: number };
}

/** The scales of the surrounding chart; undefined until it is laid out. A new object only when one of them changed. */
export function useScales(): Scales | undefined {
  const xScale = useXAxisScale();
  const yScale = useYAxisScale();
  const area = usePlotArea();
  return useMemo(() => {
    if (!xScale || !yScale || !area || area.width <= 0 || area.height <= 0) return undefined;
    const scaled = (scale: typeof xScale) => (value: number) => scale(value) ?? Number.NaN;
    return { x: scaled(xScale), y: scaled(yScale), area };
  }, [xScale, yScale, area]);
}

/** All of `values` in pixels. */
export const toPixels = (values: ArrayLike<number>, length: number, scale: (value: number) => number): Float64Array =>
  Float64Array.from({ length }, (_, i) => scale(values[i]!));
