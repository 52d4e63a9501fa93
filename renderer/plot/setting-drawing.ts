import { seriesStyles } from '../../shared/report/charts/chart-style.ts';
import { symbolPath } from './geometry/paths.ts';
import type { Drawing } from './Marks.tsx';
import type { Scales } from './scales.ts';

/** A line from the bottom to the top of the plot; none where there is no pressure. */
export const uprightPath = (pressure: number | undefined, { x, area }: Scales): string =>
  pressure === undefined ? '' : `M${x(pressure)} ${area.y}V${area.y + area.height}`;

/** The window between two pressures, as high as the plot. */
export const windowPath = (low: number, high: number, { x, area }: Scales): string =>
  `M${x(low)} ${area.y}H${x(high)}V${area.y + area.height}H${x(low)}Z`;

/** Light-off trials of one result at these places, pixels. */
export const trialMarks = (lit: boolean, px: readonly number[], py: readonly number[]): string =>
  symbolPath(seriesStyles[lit ? 'lit' : 'not-lit'].mark, px, py, px.keys(), lit ? 7 : 6);

/** How far below the top of the plot a mark is, and half its height, pixels. */
interface MarkPlace {
  below: number;
  r: number;
}

/** Set point and as-left pressure as upright lines with their marks. */
export function settingDrawing(
  { setPoint, asLeft }: { setPoint?: number | undefined; asLeft?: number | undefined },
  scales: Scales,
  marks: { setPoint: MarkPlace; asLeft: MarkPlace },
): Drawing {
  const mark = (pressure: number | undefined, name: 'set-point' | 'as-left', { below, r }: MarkPlace) =>
    pressure === undefined
      ? ''
      : symbolPath(seriesStyles[name].mark, [scales.x(pressure)], [scales.area.y + below], [0], r);
  return {
    'line-set-point': uprightPath(setPoint, scales),
    'line-as-left': uprightPath(asLeft, scales),
    'mark-set-point': mark(setPoint, 'set-point', marks.setPoint),
    'mark-as-left': mark(asLeft, 'as-left', marks.asLeft),
  };
}
