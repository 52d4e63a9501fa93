import type { AnalysisDetail } from '../model/analysis-result.ts';
import type { Trial } from '../model/capture.ts';
import { pressureNumber, pressureUnitLabel, signalNumber, signalUnitLabel } from '../model/format.ts';
import type { Setup } from '../model/setup.ts';
import { convertPressure } from '../model/units.ts';
import { axes, legend } from './axes.ts';
import type { Frame, LegendEntry } from './axes.ts';
import { seriesStyles, type SeriesName } from './chart-style.ts';
import { extent, padded } from './scale.ts';
import type { Scale } from './scale.ts';
import {
  element,
  ink,
  label,
  pathBetween,
  pathThrough,
  seriesColor,
  seriesMarks,
  seriesOutline,
  seriesStroke,
} from './svg.ts';

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
export function sweepChart(analysis: AnalysisDetail, trials: readonly Trial[], setup: Setup): Chart {
  const { result, pairs, curve } = analysis;
  const { pressureUnit, signalUnit } = result;
  const tried = trials.map((trial) => ({
    pressure: convertPressure(trial.pressure, trial.unit, pressureUnit),
    lit: trial.lit,
    spark: sparkOf(trial.sparkDelayS),
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
      'stroke-width': 1.5,
      ...seriesStroke('required-signal'),
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
    fill: seriesColor('window'),
    'fill-opacity': 0.18,
  });
}

/**
 * One mark per reading; readings of one direction whose marks would overlap are drawn once, so that a long dwell does
 * not become a blot and the file stays small.
 */
function readings(pairs: AnalysisDetail['pairs'], x: Scale, y: Scale): string {
  const directions = [
    { direction: 0, name: 'at-rest' },
    { direction: 1, name: 'turning-in' },
    { direction: -1, name: 'turning-out' },
  ] as const;
  return directions
    .map(({ direction, name }) => {
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
        path += seriesOutline(name, px, py, 2.4);
      }
      return path && seriesMarks(name, path, 0.9);
    })
    .join('');
}

function curveWithBand(curve: AnalysisDetail['curve'], x: Scale, y: Scale): string {
  const { pressure, signal, low, high } = curve;
  const through = Array.from(pressure, (p, i) => [x(p), y(signal[i]!)] as const);
  const between = Array.from(pressure, (p, i) => [x(p), y(low[i]!), y(high[i]!)] as const);
  return (
    element('path', { d: pathBetween(between), fill: seriesColor('curve'), 'fill-opacity': 0.2, stroke: 'none' }) +
    element('path', {
      d: pathThrough(through),
      fill: 'none',
      stroke: seriesColor('curve'),
      'stroke-width': 1.8,
    })
  );
}

/** Ends, set point and as-left pressure as vertical lines; each kind has its own row for its label, so labels never overlap. */
function uprights({ result }: AnalysisDetail, x: Scale): string {
  const unit = result.pressureUnit;
  const line = (value: number, top: number, name: SeriesName) =>
    element('line', {
      x1: x(value),
      x2: x(value),
      y1: top,
      y2: frame.bottom,
      'stroke-width': 1.5,
      ...seriesStroke(name),
    });
  // The arms of the bracket point into the window.
  const bracket = (side: 'low' | 'high', value: number) => {
    const arm = side === 'low' ? 6 : -6;
    return element('path', {
      d: `M${Math.round((x(value) + arm) * 100) / 100} ${frame.top}h${-arm}V${frame.bottom}h${arm}`,
      fill: 'none',
      'stroke-width': 1.8,
      ...seriesStroke(`${side}-end`),
    });
  };
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
    parts.push(
      line(end.value, frame.top - 14, `${side}-end`),
      bracket(side, end.value),
      line(end.guarded, frame.top, 'guarded-end'),
    );
    parts.push(
      label(text, x(end.value) + (outwards ? dx : -dx), frame.top - 6, { 'text-anchor': outwards ? anchor : turned }),
    );
  }
  const { setPoint, asLeft } = result;
  // Each label stays on its own side, so that the taller line does not run through the label of the other.
  const asLeftIsRight = asLeft === undefined || setPoint === undefined || asLeft.value >= setPoint.value;
  const moment = (value: number, row: number, right: boolean, name: 'set-point' | 'as-left', words: string) => {
    parts.push(line(value, row, name));
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
    moment(setPoint.value, row, asLeft === undefined || !asLeftIsRight, 'set-point', words);
    parts.push(seriesMarks('set-point', seriesOutline('set-point', x(setPoint.value), row, 5), 1));
  }
  if (asLeft) {
    const row = frame.top - 50;
    const words = `as left ${pressureNumber(asLeft.value, unit)}`;
    moment(asLeft.value, row, asLeftIsRight, 'as-left', words);
    parts.push(seriesMarks('as-left', seriesOutline('as-left', x(asLeft.value), row, 4.2), 1));
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
  const stroke = seriesColor('maker-range');
  const post = (px: number) => element('line', { x1: px, x2: px, y1: y - 4, y2: y + 4, stroke, 'stroke-width': 2 });
  return (
    element('line', { x1: left, x2: right, y1: y, y2: y, stroke, 'stroke-width': 2 }) +
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
  spark: 'with gas' | 'delayed' | 'unknown';
}

const sparkOf = (delayS: number | undefined): Tried['spark'] =>
  delayS === undefined ? 'unknown' : delayS > 0 ? 'delayed' : 'with gas';

/** Trials along the pressure axis: one row for spark with the gas, one for delayed spark, one where that is not known. */
function trialStrip(tried: Tried[], x: Scale, top: number): { markup: string; height: number } {
  const rows = [
    { spark: 'with gas', text: 'spark with gas' },
    { spark: 'delayed', text: 'delayed spark' },
    { spark: 'unknown', text: 'time of the spark not known' },
  ].filter((row) => tried.some((trial) => trial.spark === row.spark));
  if (rows.length === 0) return { markup: '', height: 0 };
  const parts: string[] = [label('Light-off trials', frame.left, top, { 'font-weight': 'bold' })];
  rows.forEach((row, i) => {
    const y = top + 17 + i * 26;
    parts.push(element('line', { x1: frame.left, x2: frame.right, y1: y, y2: y, stroke: ink.grid }));
    parts.push(label(row.text, frame.right, y - 8, { 'text-anchor': 'end', 'font-size': 10, fill: ink.faint }));
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

const trialMark = (lit: boolean, x: number, y: number): string =>
  lit
    ? element('path', {
        d: seriesOutline('lit', x, y, 4.5),
        fill: seriesColor('lit'),
        stroke: '#ffffff',
        'stroke-width': 1,
      })
    : seriesMarks('not-lit', seriesOutline('not-lit', x, y, 4.5), 2.4);

function entries({ pairs, result }: AnalysisDetail, tried: Tried[]): LegendEntry[] {
  const has = (direction: number) => pairs.direction.some((value) => Math.sign(value) === direction);
  const mark = (name: SeriesName) => (px: number, py: number) => seriesMarks(name, seriesOutline(name, px, py, 4), 1.2);
  const band = (name: SeriesName, opacity: number) => (px: number, py: number) =>
    element('rect', { x: px - 10, y: py - 5, width: 20, height: 10, fill: seriesColor(name), 'fill-opacity': opacity });
  const list: (LegendEntry | false)[] = [
    has(1) && { draw: mark('turning-in'), text: seriesStyles['turning-in'].name },
    has(-1) && { draw: mark('turning-out'), text: seriesStyles['turning-out'].name },
    has(0) && { draw: mark('at-rest'), text: seriesStyles['at-rest'].name },
    {
      draw: (px, py) =>
        band('curve', 0.2)(px, py) +
        element('line', {
          x1: px - 10,
          x2: px + 10,
          y1: py,
          y2: py,
          stroke: seriesColor('curve'),
          'stroke-width': 1.8,
        }),
      text: seriesStyles.curve.name,
    },
    result.window.low !== undefined && {
      draw: band('window', 0.3),
      text: 'window between guarded ends',
    },
    tried.some((trial) => trial.lit) && { draw: (px, py) => trialMark(true, px, py), text: seriesStyles.lit.name },
    tried.some((trial) => !trial.lit) && {
      draw: (px, py) => trialMark(false, px, py),
      text: seriesStyles['not-lit'].name,
    },
  ];
  return list.filter((entry) => entry !== false);
}
