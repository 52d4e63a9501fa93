import { round } from './scale.ts';

/** Shapes of the marks in every chart, on the screen and on paper. */
export const markShapes = [
  'triangle-right',
  'triangle-left',
  'dot',
  'disc',
  'ring',
  'cross',
  'bar',
  'diamond',
  'square',
  'bracket-left',
  'bracket-right',
  'range',
] as const;
export type MarkShape = (typeof markShapes)[number];

/** One path of relative steps; numbers are rounded, which keeps a chart of thousands of marks short. */
const path = (strings: TemplateStringsArray, ...values: number[]): string =>
  String.raw({ raw: strings }, ...values.map((value) => round(value)));

const circle = (r: number): string => path`m${-r} 0a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`;

const outlines: Record<MarkShape, (r: number) => string> = {
  // The way the pressure goes: turning in raises it, to the right on the axis.
  'triangle-right': (r) => path`m${-r} ${-r}l${2 * r} ${r}l${-2 * r} ${r}z`,
  'triangle-left': (r) => path`m${r} ${-r}l${-2 * r} ${r}l${2 * r} ${r}z`,
  dot: (r) => path`m${-r / 2} ${-r / 2}h${r}v${r}h${-r}z`,
  disc: circle,
  ring: circle,
  cross: (r) => path`m${-r} ${-r}l${2 * r} ${2 * r}m0 ${-2 * r}l${-2 * r} ${2 * r}`,
  bar: (r) => path`m${-r} 0h${2 * r}`,
  diamond: (r) => path`m0 ${-r}l${r} ${r}l${-r} ${r}l${-r} ${-r}z`,
  square: (r) => path`m${-r} ${-r}h${2 * r}v${2 * r}h${-2 * r}z`,
  // Ends of the window: the bracket opens towards its inside.
  'bracket-left': (r) => path`m${r / 2} ${-r}h${-r}v${2 * r}h${r}`,
  'bracket-right': (r) => path`m${-r / 2} ${-r}h${r}v${2 * r}h${-r}`,
  range: (r) => path`m${-2 * r} ${-r}v${2 * r}m0 ${-r}h${4 * r}m0 ${-r}v${2 * r}`,
};

/** Outline of a mark around the current point as SVG path commands, all relative; `r` is half its height in pixels. */
export const markOutline = (shape: MarkShape, r: number): string => outlines[shape](r);

/** A whole SVG path for one mark around (x, y), pixels. */
export const markPath = (shape: MarkShape, x: number, y: number, r: number): string =>
  `M${round(x)} ${round(y)}${markOutline(shape, r)}`;
