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
import { element, ink, label, pathThrough, seriesColor, seriesMarks, seriesOutline, seriesStroke } from './svg.ts';

export interface Chart {
  svg: string;
  width: number;
  height: number;
}

const width = 720;
const frame: Frame = { left: 62, right: 706, top: 62, bottom: 330 };

/**
 * Flame signal against pilot pressure: the readings (turning in and out told apart by shape), the steady-state curve
 * with its band, what is required, the window with its guarded ends, set point, as-left, and the light-off trials.
 */
export function sweepChart(analysis: AnalysisDetail, trials: Trial[], setup: Setup): Chart {
  const { result, pairs, curve } = analysis;
  const { pressureUnit, signalUnit } = result;
  const tried = trials.map((trial) => ({
    pressure: convertPressure(trial.pressure, trial.unit, pressureUnit),
    lit: trial.lit,
    heldBack: trial.sparkDelayS > 0,
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
    label(`required ${signalNumber(result.requiredSignal.value, signalUnit)}`, frame.right - 4, required - 5, {
      'text-anchor': 'end',
    }),
    uprights(analysis, x),
    makerBar(setup, analysis, x),
    strip.markup,
    key.markup,
  ].join('');
  return { svg: drawing(width, height, body), width, height };
}

/** The outermost element; white below everything, so that it prints the same on any page. */
export const drawing = (w: number, h: number, body: string): string =>
  element(
    'svg',
    { xmlns: 'http://www.w3.org/2000/svg', viewBox: `0 0 ${w} ${h}`, width: w, height: h },
    element('rect', { x: 0, y: 0, width: w, height: h, fill: '#ffffff' }) + body,
  );

/** The window between its guarded ends, shaded. */
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
 * One mark a reading; readings of one direction whose marks would lie on each other are drawn once, so that a long
 * dwell does not become a blot and the page stays small.
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
  const points = (signal: Float64Array) =>
    Array.from(curve.pressure, (pressure, i) => [x(pressure), y(signal[i] as number)] as const);
  const around = [...points(curve.high), ...points(curve.low).toReversed()].filter(([, py]) => Number.isFinite(py));
  return (
    (around.length > 2
      ? element('path', {
          d: `${pathThrough(around)}Z`,
          fill: seriesColor('curve'),
          'fill-opacity': 0.2,
          stroke: 'none',
        })
      : '') +
    element('path', {
      d: pathThrough(points(curve.signal)),
      fill: 'none',
      stroke: seriesColor('curve'),
      'stroke-width': 1.8,
    })
  );
}

/** Ends, set point and as-left as upright lines; each kind has a row of its own for its words, so they never collide. */
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
    // Words turn inwards where they would leave the paper.
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
  // Each keeps its words on its own side, so that the taller line does not run through the words of the other.
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

/** The maker's range as a bar along the foot of the plot. */
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
    label("maker's range", (left + right) / 2, y - 5, { 'text-anchor': 'middle', 'font-size': 10 })
  );
}

interface Tried {
  pressure: number;
  lit: boolean;
  heldBack: boolean;
}

/** Trials along the pressure axis: a row for the spark at once, a row for the spark held back. */
function trialStrip(tried: Tried[], x: Scale, top: number): { markup: string; height: number } {
  const rows = [
    { heldBack: false, text: 'spark at once' },
    { heldBack: true, text: 'spark held back' },
  ].filter((row) => tried.some((trial) => trial.heldBack === row.heldBack));
  if (rows.length === 0) return { markup: '', height: 0 };
  const parts: string[] = [label('Light-off trials', frame.left, top, { 'font-weight': 'bold' })];
  rows.forEach((row, i) => {
    const y = top + 17 + i * 26;
    parts.push(element('line', { x1: frame.left, x2: frame.right, y1: y, y2: y, stroke: ink.grid }));
    parts.push(label(row.text, frame.right, y - 8, { 'text-anchor': 'end', 'font-size': 10, fill: ink.faint }));
    // Trials at one place with one outcome are one mark with their number, instead of hiding each other.
    const places = new Map<string, { trial: Tried; count: number }>();
    for (const trial of tried.filter((each) => each.heldBack === row.heldBack)) {
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
