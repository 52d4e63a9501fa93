import { linearScale, ticksOf } from './scale.ts';
import type { Scale } from './scale.ts';
import { element, ink, label } from './svg.ts';

export interface Frame {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/** Both scales of one plot area, and its grid, frame, tick labels and axis titles as markup. */
export function axes(
  frame: Frame,
  xSpan: [number, number],
  ySpan: [number, number],
  titles: { x?: string; y: string },
  ticks: { x: number; y: number } = { x: 9, y: 6 },
): { x: Scale; y: Scale; markup: string } {
  const x = linearScale(xSpan, [frame.left, frame.right]);
  const y = linearScale(ySpan, [frame.bottom, frame.top]);
  const parts: string[] = [];
  const line = (x1: number, y1: number, x2: number, y2: number, stroke: string) =>
    element('line', { x1, y1, x2, y2, stroke, 'stroke-width': 1 });

  for (const { value, text } of ticksOf(x, ticks.x)) {
    parts.push(line(x(value), frame.top, x(value), frame.bottom, ink.grid));
    if (titles.x !== undefined) parts.push(label(text, x(value), frame.bottom + 15, { 'text-anchor': 'middle' }));
  }
  for (const { value, text } of ticksOf(y, ticks.y)) {
    parts.push(line(frame.left, y(value), frame.right, y(value), ink.grid));
    parts.push(label(text, frame.left - 6, y(value) + 4, { 'text-anchor': 'end' }));
  }
  parts.push(line(frame.left, frame.bottom, frame.right, frame.bottom, ink.axis));
  parts.push(line(frame.left, frame.top, frame.left, frame.bottom, ink.axis));
  if (titles.x !== undefined)
    parts.push(label(titles.x, (frame.left + frame.right) / 2, frame.bottom + 32, { 'text-anchor': 'middle' }));
  const middle = (frame.top + frame.bottom) / 2;
  parts.push(
    label(titles.y, 14, middle, { 'text-anchor': 'middle', transform: `rotate(-90 14 ${Math.round(middle)})` }),
  );
  return { x, y, markup: parts.join('') };
}

/** One entry of a legend: a small drawing around (x, y) and its text. */
export interface LegendEntry {
  draw: (x: number, y: number) => string;
  text: string;
}

/** Legend in rows from (left, top), as many entries per row as fit; the text width is estimated, text is never cut. */
export function legend(
  entries: LegendEntry[],
  left: number,
  top: number,
  right: number,
): { markup: string; height: number } {
  let x = left;
  let y = top;
  const parts: string[] = [];
  for (const entry of entries) {
    const width = 34 + entry.text.length * 6.3; // 6.3: mean advance of a wide sans serif at 11 px
    if (x > left && x + width > right) {
      x = left;
      y += 18;
    }
    parts.push(entry.draw(x + 10, y - 4), label(entry.text, x + 26, y));
    x += width + 8;
  }
  return { markup: parts.join(''), height: y - top + 18 };
}
