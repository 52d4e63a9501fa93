import { pressureNumber } from '../../model/format.ts';
import type { PressureUnit } from '../../model/units.ts';
import type { Frame } from './axes.ts';
import type { SeriesName } from './chart-style.ts';
import type { Scale } from './scale.ts';
import { element, label, seriesColor, seriesMarks, seriesOutline, seriesStroke } from './svg.ts';

/** A vertical line at `px`, pixels. */
export const upright = (name: SeriesName, px: number, top: number, bottom: number): string =>
  element('line', { x1: px, x2: px, y1: top, y2: bottom, 'stroke-width': 1.5, ...seriesStroke(name) });

/** The window between its guarded ends (pixels), shaded. */
export const windowBand = (left: number, right: number, { top, bottom }: Frame): string =>
  element('rect', {
    x: left,
    y: top,
    width: right - left,
    height: bottom - top,
    fill: seriesColor('window'),
    'fill-opacity': 0.18,
  });

/**
 * Set point and as-left pressure (in `unit`), each a line with its mark and its label.
 *
 * @param rows  heights of the marks and labels, pixels
 */
export function settingLines(
  { setPoint, asLeft }: { setPoint?: number | undefined; asLeft?: number | undefined },
  unit: PressureUnit,
  x: Scale,
  { rows, bottom }: { rows: { setPoint: number; asLeft: number }; bottom: number },
): string {
  // Each label stays on its own side, so that the taller line does not run through the label of the other.
  const asLeftIsRight = asLeft === undefined || setPoint === undefined || asLeft >= setPoint;
  const line = (name: 'set-point' | 'as-left', value: number, row: number, isRight: boolean, words: string) =>
    upright(name, x(value), row, bottom) +
    label(`${words} ${pressureNumber(value, unit)}`, x(value) + (isRight ? 9 : -9), row + 4, {
      'text-anchor': isRight ? 'start' : 'end',
      'font-weight': 'bold',
    }) +
    seriesMarks(name, seriesOutline(name, x(value), row, name === 'set-point' ? 5 : 4.2), 1);
  return [
    setPoint === undefined
      ? ''
      : line('set-point', setPoint, rows.setPoint, asLeft === undefined || !asLeftIsRight, 'set point'),
    asLeft === undefined ? '' : line('as-left', asLeft, rows.asLeft, asLeftIsRight, 'as left'),
  ].join('');
}
