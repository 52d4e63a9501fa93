import type { AnalysisDetail } from '../model/analysis-result.ts';
import type { Trial } from '../model/capture.ts';
import { pressureNumber, pressureUnitLabel, signalNumber, signalUnitLabel } from '../model/format.ts';
import type { Setup } from '../model/setup.ts';
import { convertPressure } from '../model/units.ts';
import { axes, legend } from './axes.ts';
import type { Frame, LegendEntry } from './axes.ts';
import { extent, padded } from './scale.ts';
import type { Scale } from './scale.ts';
import { element, ink, label, pathBetween, pathThrough, shapes } from './svg.ts';

export interface Chart {
  svg: string;
  width: number;
  height: number;
}

const width = 720;
const frame: Frame = { left: 62, right: 706, top: 62, bottom: 330 };

/**
 * Flame signal versus pilot pressure: the readings (turning in and turning out distinguished by shape), the steady-state
 * curve with its confidence band, the required signal, the window with its guarded ends, set point, as-left pressure
 * and the light-off trials.
 */
export function sweepChart(analysis: AnalysisDetail, trials: Trial[], setup: Setup): Chart {
  const { result, pairs, curve } = analysis;
  const { pressureUnit, signalUnit } = result;
  const tried = trials.map((trial) => ({
    pressure: convertPressure(trial.pressure, trial.unit, pressureUnit),
    lit: trial.lit,
    isDelayed: trial.sparkDelayS > 0,
  }));
  const moments = [result.setPoint?.value, result.asLeft?.value].filter((value) => value !== undefined);
  const xSpan = padded(
    extent(
      pairs.pressure,
      curve.pressure,
      tried.map((trial) => trial.pressure),
      moments,
    ),
    0.03,
  );
  const ySpan = padded(extent(pairs.signal, curve.low, curve.high, [0, result.requiredSignal.value]), 0.03);
  const { x, y, markup } = axes(frame, xSpan, ySpan, {
    x: `Pilot pressure, ${pressureUnitLabel(pressureUnit)}`,
    y: `Flame signal, ${signalUnitLabel(signalUnit)}`,
  });
  const strip = trialStrip(tried, x, frame.bottom + 52);
  const required = y(result.requiredSignal.value);
  const key = legend(entries(analysis, tried), frame.left, frame.bottom + 60 + strip.height, frame.right);
  const height = Math.ceil(frame.bottom + 60 + strip.height + key.height);

  const body = [
    windowBand(analysis, x),
    markup,
    readings(pairs, x, y),
    curveWithBand(curve, x, y),
    element('line', {
      x1: frame.left,
      x2: frame.right,
      y1: required,
      y2: required,
      stroke: ink.purple,
      'stroke-width': 1.5,
      'stroke-dasharray': '8 3 2 3',
    }),
    requiredLabel(analysis, x, required),
    uprights(analysis, x),
    makerBar(setup, analysis, x),
    strip.markup,
    key.markup,
  ].join('');
  return { svg: drawing(width, height, body), width, height };
}

/** The outermost element, with a white background so that it prints the same on any page. */
export const drawing = (w: number, h: number, body: string): string =>
  element(
    'svg',
    { xmlns: 'http://www.w3.org/2000/svg', viewBox: `0 0 ${w} ${h}`, width: w, height: h },
    element('rect', { x: 0, y: 0, width: w, height: h, fill: '#ffffff' }) + body,
  );

/** Shades the window between its guarded ends. */
function windowBand({ result: { window } }: AnalysisDetail, x: Scale): string {
  if (!window.low || !window.high || window.low.guarded >= window.high.guarded) return '';
  const left = x(window.low.guarded);
  return element('rect', {
    x: left,
    y: frame.top,
    width: x(window.high.guarded) - left,
    height: frame.bottom - frame.top,
    fill: ink.sky,
    'fill-opacity': 0.18,
  });
}

/**
 * One mark per reading; readings of one direction whose marks would overlap are drawn once, so that a long dwell does
 * not become a blot and the file stays small.
 */
function readings(pairs: AnalysisDetail['pairs'], x: Scale, y: Scale): string {
  const looks = [
    { direction: 0, shape: shapes.bar, stroke: ink.faint, fill: 'none' },
    { direction: 1, shape: shapes.up, stroke: ink.vermillion, fill: ink.vermillion },
    { direction: -1, shape: shapes.down, stroke: ink.blue, fill: 'none' },
  ];
  return looks
    .map(({ direction, shape, stroke, fill }) => {
      const taken = new Set<string>();
      let path = '';
      for (let i = 0; i < pairs.pressure.length; i += 1) {
        if (Math.sign(pairs.direction[i] as number) !== direction) continue;
        const px = x(pairs.pressure[i] as number);
        const py = y(pairs.signal[i] as number);
        if (!Number.isFinite(px) || !Number.isFinite(py)) continue;
        const cell = `${Math.round(px / 3)} ${Math.round(py / 3)}`;
        if (taken.has(cell)) continue;
        taken.add(cell);
        path += shape(px, py, 2.4);
      }
      return path && element('path', { d: path, stroke, fill, 'fill-opacity': 0.75, 'stroke-width': 0.9 });
    })
    .join('');
}

function curveWithBand(curve: AnalysisDetail['curve'], x: Scale, y: Scale): string {
  const { pressure, signal, low, high } = curve;
  const through = Array.from(pressure, (p, i) => [x(p), y(signal[i]!)] as const);
  const between = Array.from(pressure, (p, i) => [x(p), y(low[i]!), y(high[i]!)] as const);
  return (
    element('path', { d: pathBetween(between), fill: ink.band, 'fill-opacity': 0.45, stroke: 'none' }) +
    element('path', { d: pathThrough(through), fill: 'none', stroke: ink.curve, 'stroke-width': 1.8 })
  );
}

/** Ends, set point and as-left pressure as vertical lines; each kind has its own row for its label, so labels never overlap. */
function uprights({ result }: AnalysisDetail, x: Scale): string {
  const unit = result.pressureUnit;
  const line = (value: number, top: number, stroke: string, dash: string) =>
    element('line', {
      x1: x(value),
      x2: x(value),
      y1: top,
      y2: frame.bottom,
      stroke,
      'stroke-width': 1.5,
      ...(dash && { 'stroke-dasharray': dash }),
    });
  const parts: string[] = [];
  for (const side of ['low', 'high'] as const) {
    const end = result.window[side];
    if (!end) continue;
    const text = `${side} end ${pressureNumber(end.value, unit)}`;
    const anchor = side === 'low' ? 'end' : 'start';
    // The label goes inside where it would run off the page.
    const outwards = side === 'low' ? x(end.value) > frame.left + 80 : x(end.value) < frame.right - 90;
    const turned = anchor === 'end' ? 'start' : 'end';
    const dx = side === 'low' ? -4 : 4;
    parts.push(line(end.value, frame.top - 14, ink.text, ''), line(end.guarded, frame.top, ink.text, '2 3'));
    parts.push(
      label(text, x(end.value) + (outwards ? dx : -dx), frame.top - 6, { 'text-anchor': outwards ? anchor : turned }),
    );
  }
  const { setPoint, asLeft } = result;
  // Each label stays on its own side, so that the taller line does not run through the label of the other.
  const asLeftIsRight = asLeft === undefined || setPoint === undefined || asLeft.value >= setPoint.value;
  const moment = (
    value: number,
    row: number,
    right: boolean,
    look: { stroke: string; dash: string },
    words: string,
  ) => {
    parts.push(line(value, row, look.stroke, look.dash));
    parts.push(
      label(words, x(value) + (right ? 9 : -9), row + 4, {
        'text-anchor': right ? 'start' : 'end',
        'font-weight': 'bold',
      }),
    );
  };
  if (setPoint) {
    const row = frame.top - 32;
    const words = `set point ${pressureNumber(setPoint.value, unit)}`;
    moment(setPoint.value, row, asLeft === undefined || !asLeftIsRight, { stroke: ink.green, dash: '' }, words);
    parts.push(element('path', { d: shapes.diamond(x(setPoint.value), row, 5), fill: ink.green }));
  }
  if (asLeft) {
    const row = frame.top - 50;
    const words = `as left ${pressureNumber(asLeft.value, unit)}`;
    moment(asLeft.value, row, asLeftIsRight, { stroke: ink.orange, dash: '6 3' }, words);
    parts.push(element('path', { d: shapes.square(x(asLeft.value), row, 4.2), fill: ink.orange }));
  }
  return parts.join('');
}

/**
 * Label of the required signal: inside the window just below the line, where neither readings nor curve pass; without a
 * window at the right.
 */
function requiredLabel({ result }: AnalysisDetail, x: Scale, y: number): string {
  const text = `required ${signalNumber(result.requiredSignal.value, result.signalUnit)}`;
  const { low, high } = result.window;
  return low && high
    ? label(text, widestGap(x(low.value), x(high.value), verticals(result, x)), y + 14, { 'text-anchor': 'middle' })
    : label(text, frame.right - 4, y - 5, { 'text-anchor': 'end' });
}

/** Where the vertical lines of ends, set point and as-left pressure are. */
const verticals = ({ window, setPoint, asLeft }: AnalysisDetail['result'], x: Scale): number[] =>
  [window.low?.value, window.low?.guarded, window.high?.value, window.high?.guarded, setPoint?.value, asLeft?.value]
    .filter((value) => value !== undefined)
    .map((value) => x(value));

/** Middle of the widest gap that `cuts` leave between `left` and `right`: room for a label that no line runs through. */
function widestGap(left: number, right: number, cuts: number[]): number {
  const edges = [left, ...cuts.filter((cut) => cut > left && cut < right).sort((a, b) => a - b), right];
  let [middle, widest] = [(left + right) / 2, 0];
  for (let i = 1; i < edges.length; i += 1) {
    const [from, to] = [edges[i - 1]!, edges[i]!];
    if (to - from > widest) [middle, widest] = [(from + to) / 2, to - from];
  }
  return middle;
}

/** The maker's range as a bar along the bottom of the plot. */
function makerBar({ makerPressureRange: range }: Setup, { result }: AnalysisDetail, x: Scale): string {
  if (!range) return '';
  const inside = (value: number) =>
    Math.min(frame.right, Math.max(frame.left, x(convertPressure(value, range.unit, result.pressureUnit))));
  const y = frame.bottom - 6;
  const [left, right] = [inside(range.low), inside(range.high)];
  const post = (px: number) => element('line', { x1: px, x2: px, y1: y - 4, y2: y + 4, stroke: ink.text });
  return (
    element('line', { x1: left, x2: right, y1: y, y2: y, stroke: ink.text, 'stroke-width': 2 }) +
    post(left) +
    post(right) +
    label("maker's range", widestGap(left, right, verticals(result, x)), y - 5, {
      'text-anchor': 'middle',
      'font-size': 10,
    })
  );
}

interface Tried {
  pressure: number;
  lit: boolean;
  isDelayed: boolean;
}

/** Trials along the pressure axis: one row for spark with the gas, one for delayed spark. */
function trialStrip(tried: Tried[], x: Scale, top: number): { markup: string; height: number } {
  const rows = [
    { isDelayed: false, text: 'spark with gas' },
    { isDelayed: true, text: 'delayed spark' },
  ].filter((row) => tried.some((trial) => trial.isDelayed === row.isDelayed));
  if (rows.length === 0) return { markup: '', height: 0 };
  const parts: string[] = [label('Light-off trials', frame.left, top, { 'font-weight': 'bold' })];
  rows.forEach((row, i) => {
    const y = top + 17 + i * 26;
    parts.push(element('line', { x1: frame.left, x2: frame.right, y1: y, y2: y, stroke: ink.grid }));
    parts.push(label(row.text, frame.right, y - 8, { 'text-anchor': 'end', 'font-size': 10, fill: ink.faint }));
    // Trials at one place with the same result become one mark with their count, instead of hiding each other.
    const places = new Map<string, { trial: Tried; count: number }>();
    for (const trial of tried.filter((each) => each.isDelayed === row.isDelayed)) {
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

const trialMark = (lit: boolean, x: number, y: number): string =>
  lit
    ? element('path', { d: shapes.disc(x, y, 4.5), fill: ink.green, stroke: '#ffffff', 'stroke-width': 1 })
    : element('path', { d: shapes.cross(x, y, 4.5), fill: 'none', stroke: ink.vermillion, 'stroke-width': 2.4 });

function entries({ pairs, result }: AnalysisDetail, tried: Tried[]): LegendEntry[] {
  const has = (direction: number) => pairs.direction.some((value) => Math.sign(value) === direction);
  const mark = (d: string, stroke: string, fill: string) => element('path', { d, stroke, fill, 'stroke-width': 1.2 });
  const dash = (px: number, py: number, stroke: string, more: Record<string, string | number>) =>
    element('line', { x1: px - 10, x2: px + 10, y1: py, y2: py, stroke, 'stroke-width': 1.8, ...more });
  const list: (LegendEntry | false)[] = [
    has(1) && { draw: (px, py) => mark(shapes.up(px, py, 4), ink.vermillion, ink.vermillion), text: 'turning in' },
    has(-1) && { draw: (px, py) => mark(shapes.down(px, py, 4), ink.blue, 'none'), text: 'turning out' },
    has(0) && { draw: (px, py) => mark(shapes.bar(px, py, 4), ink.faint, 'none'), text: 'at rest' },
    {
      draw: (px, py) =>
        element('rect', { x: px - 10, y: py - 5, width: 20, height: 10, fill: ink.band, 'fill-opacity': 0.45 }) +
        dash(px, py, ink.curve, {}),
      text: 'steady-state curve and its interval',
    },
    result.window.low !== undefined && {
      draw: (px, py) =>
        element('rect', { x: px - 10, y: py - 5, width: 20, height: 10, fill: ink.sky, 'fill-opacity': 0.3 }),
      text: 'window between guarded ends',
    },
    tried.some((trial) => trial.lit) && { draw: (px, py) => trialMark(true, px, py), text: 'lit' },
    tried.some((trial) => !trial.lit) && { draw: (px, py) => trialMark(false, px, py), text: 'not lit' },
  ];
  return list.filter((entry) => entry !== false);
}
