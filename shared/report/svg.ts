import { area, line } from 'd3-shape';

/** Text made safe for HTML and SVG, in content and in double-quoted attributes. Control characters show as a mark. */
export const escapeMarkup = (text: string): string =>
  text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;')
    // XML admits no other control characters, not even as references.
    // oxlint-disable-next-line no-control-regex
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/gu, '\ufffd');

type Attributes = Record<string, string | number>;

/** Hundredths of a pixel are enough, and keep the text short and the same everywhere. */
const decimals = 2;

const attribute = (value: string | number): string =>
  typeof value === 'number' ? String(Math.round(value * 100) / 100) : escapeMarkup(value);

/** One SVG element; `children` is markup that was made here before. */
export function element(name: string, attributes: Attributes, children = ''): string {
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

const isPlace = (coordinates: readonly number[]): boolean => coordinates.every(Number.isFinite);

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

/**
 * Colours of the report. Series: Okabe and Ito (2008), "Color Universal Design", told apart with every common colour
 * vision; shape and dash say the same again.
 */
export const ink = {
  text: '#1a1a1a',
  faint: '#5f6368',
  grid: '#e2e4e7',
  axis: '#5f6368',
  curve: '#000000',
  band: '#9aa0a6',
  blue: '#0072B2',
  sky: '#56B4E9',
  vermillion: '#D55E00',
  green: '#009E73',
  orange: '#E69F00',
  purple: '#CC79A7',
} as const;

/** Every mark that stands for data, as a path around (x, y); `r` is about half its size. */
export const shapes = {
  up: (x: number, y: number, r: number) => `M${at(x - r, y + r)}L${at(x, y - r)}L${at(x + r, y + r)}Z`,
  down: (x: number, y: number, r: number) => `M${at(x - r, y - r)}L${at(x, y + r)}L${at(x + r, y - r)}Z`,
  bar: (x: number, y: number, r: number) => `M${at(x - r, y)}L${at(x + r, y)}`,
  cross: (x: number, y: number, r: number) =>
    `M${at(x - r, y - r)}L${at(x + r, y + r)}M${at(x - r, y + r)}L${at(x + r, y - r)}`,
  diamond: (x: number, y: number, r: number) => `M${at(x, y - r)}L${at(x + r, y)}L${at(x, y + r)}L${at(x - r, y)}Z`,
  square: (x: number, y: number, r: number) =>
    `M${at(x - r, y - r)}L${at(x + r, y - r)}L${at(x + r, y + r)}L${at(x - r, y + r)}Z`,
  disc: (x: number, y: number, r: number) =>
    `M${at(x - r, y)}A${r} ${r} 0 1 0 ${at(x + r, y)}A${r} ${r} 0 1 0 ${at(x - r, y)}Z`,
} as const;
const at = (x: number, y: number): string => `${attribute(x)} ${attribute(y)}`;
