import { label, element, ink, seriesColor, seriesMarks, seriesOutline } from './svg.ts';
import type { Frame } from './axes.ts';
import type { Scale } from './scale.ts';

/** A trial as the chart draws it; `pressure` in the unit of its axis. */
export interface Tried {
  pressure: number;
  lit: boolean;
  spark: 'with gas' | 'delayed' | 'unknown';
}

export const sparkOf = (delayS: number | undefined): Tried['spark'] =>
  delayS === undefined ? 'unknown' : delayS > 0 ? 'delayed' : 'with gas';

/** Trials along the pressure axis: one row for spark with the gas, one for delayed spark, one where that is not known. */
export function trialStrip(
  tried: Tried[],
  x: Scale,
  top: number,
  { left, right }: Pick<Frame, 'left' | 'right'>,
): { markup: string; height: number } {
  const rows = [
    { spark: 'with gas', text: 'spark with gas' },
    { spark: 'delayed', text: 'delayed spark' },
    { spark: 'unknown', text: 'time of the spark not known' },
  ].filter((row) => tried.some((trial) => trial.spark === row.spark));
  if (rows.length === 0) return { markup: '', height: 0 };
  const parts: string[] = [label('Light-off trials', left, top, { 'font-weight': 'bold' })];
  rows.forEach((row, i) => {
    const y = top + 17 + i * 26;
    parts.push(element('line', { x1: left, x2: right, y1: y, y2: y, stroke: ink.grid }));
    parts.push(label(row.text, right, y - 8, { 'text-anchor': 'end', 'font-size': 10, fill: ink.faint }));
    // Trials at one place with the same result become one mark with their count, instead of hiding each other.
    const places = new Map<string, { trial: Tried; count: number }>();
    for (const trial of tried.filter((each) => each.spark === row.spark)) {
      const place = `${Math.round(x(trial.pressure) / 5)} ${trial.lit}`;
      const there = places.get(place);
      if (there) there.count += 1;
      else places.set(place, { trial, count: 1 });
    }
    for (const { trial, count } of places.values()) {
      const px = x(trial.pressure);
      parts.push(trialMark(trial.lit, px, y));
      if (count > 1) parts.push(label(`×${count}`, px + 7, y - 3, { 'font-size': 10 }));
    }
  });
  return { markup: parts.join(''), height: 14 + rows.length * 26 };
}

/** The mark of a trial around (x, y). */
export const trialMark = (lit: boolean, x: number, y: number): string =>
  lit
    ? element('path', {
        d: seriesOutline('lit', x, y, 4.5),
        fill: seriesColor('lit'),
        stroke: '#ffffff',
        'stroke-width': 1,
      })
    : seriesMarks('not-lit', seriesOutline('not-lit', x, y, 4.5), 2.4);
