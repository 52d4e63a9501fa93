import { area, line } from 'd3-shape';
import { visibleText } from '../../model/visible-text.ts';
import { markPath } from './chart-marks.ts';
import { seriesStyle, type SeriesName } from './chart-style.ts';
import { round } from './scale.ts';

/**
 * Text made safe for HTML and SVG, in content and in double-quoted attributes. Control characters show as a mark, those that turn the
 * direction of writing as `visibleText` has them.
 */
export const escapeMarkup = (text: string): string =>
  visibleText(
    text
      // XML admits no other control characters, not even as references.
      // oxlint-disable-next-line no-control-regex
      .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/gu, '\ufffd'),
  )
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');

type Attributes = Record<string, string | number>;

/** Hundredths of a pixel are enough, and keep the text short and the same everywhere. */
const decimals = 2;

const attribute = (value: string | number): string =>
  typeof value === 'number' ? String(round(value)) : escapeMarkup(value);

// Far outside any paper; longer numbers than this a viewer may not take.
const mostPixels = 1e6;
const isPixel = (value: number): boolean => Math.abs(value) <= mostPixels;

const isDrawable = ([name, value]: [string, string | number]): boolean =>
  typeof value === 'number' ? isPixel(value) : name !== 'd' || !/NaN|Infinity|e[+-]?\d/u.test(value);

/** One SVG element; `children` is markup that was made here before. Nothing where one of its numbers cannot be drawn. */
export function element(name: string, attributes: Attributes, children = ''): string {
  if (!Object.entries(attributes).every(isDrawable)) return '';
  const list = Object.entries(attributes).map(([key, value]) => ` ${key}="${attribute(value)}"`);
  return children === '' ? `<${name}${list.join('')}/>` : `<${name}${list.join('')}>${children}</${name}>`;
}

/** A line of text, in the font that the PDF knows by this name; the HTML overrides it with the reader's own. */
export const label = (text: string, x: number, y: number, more: Attributes = {}): string =>
  element(
    'text',
    { x, y, 'font-family': 'Roboto', 'font-size': 11, fill: ink.text, 'text-anchor': 'start', ...more },
    escapeMarkup(text),
  );

const isPlace = (coordinates: readonly number[]): boolean => coordinates.every(isPixel);

const throughPoints = line<readonly [number, number]>().defined(isPlace).digits(decimals);
const betweenPoints = area<readonly [number, number, number]>()
  .y0(([, low]) => low)
  .y1(([, , high]) => high)
  .defined(isPlace)
  .digits(decimals);

/** Path through the points (x, y); a gap where a coordinate is not a number. */
export const pathThrough = (points: Iterable<readonly [number, number]>): string => throughPoints(points) ?? '';

/** Outline of the area between two lines, of points (x, low, high); a gap where a coordinate is not a number. */
export const pathBetween = (points: Iterable<readonly [number, number, number]>): string => betweenPoints(points) ?? '';

/** Colors of what frames a chart on paper. Those of its series are in chart-style.ts. */
export const ink = {
  text: '#1a1a1a',
  faint: '#5f6368',
  grid: '#e2e4e7',
  axis: '#5f6368',
} as const;

/** Color of a series on paper. */
export const seriesColor = (name: SeriesName): string => seriesStyle(name).color.light;

/** Color and dash of a series that is a line, as attributes. */
export const seriesStroke = (name: SeriesName): { stroke: string; 'stroke-dasharray'?: string } => {
  const { dash = [] } = seriesStyle(name);
  return { stroke: seriesColor(name), ...(dash.length > 0 && { 'stroke-dasharray': dash.join(' ') }) };
};

/** Outline of one mark of a series around (x, y); `r` is half its height. */
export const seriesOutline = (name: SeriesName, x: number, y: number, r: number): string =>
  markPath(seriesStyle(name).mark ?? 'dot', x, y, r);

/** Marks of a series, filled or open as it asks; `d` is the outline of all of them. */
export const seriesMarks = (name: SeriesName, d: string, strokeWidth: number): string =>
  element('path', {
    d,
    stroke: seriesColor(name),
    'stroke-width': strokeWidth,
    fill: seriesStyle(name).filled ? seriesColor(name) : 'none',
  });
