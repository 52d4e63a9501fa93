import type { Capture } from '../../model/capture.ts';
import { pressureUnitLabel, signalUnitLabel } from '../../model/format.ts';
import { kindAt, type Stretch } from '../../model/stretches.ts';
import { trialSpansOf } from '../../model/sweeps.ts';
import { convertPressure, convertSignal } from '../../model/units.ts';
import type { PressureUnit, SignalUnit } from '../../model/units.ts';
import { axes, legend } from './axes.ts';
import type { Frame } from './axes.ts';
import { markPath } from './chart-marks.ts';
import { seriesStyles, type SeriesName } from './chart-style.ts';
import { type Chart, drawing } from './drawing.ts';
import { extent, padded } from './scale.ts';
import type { Scale } from './scale.ts';
import { element, pathThrough, seriesColor } from './svg.ts';
import { visitBand } from './visit-band.ts';
import { visitItems } from './visit-items.ts';

const width = 720;
const upper: Frame = { left: 62, right: 706, top: 12, bottom: 142 };
const lower: Frame = { left: 62, right: 706, top: 158, bottom: 288 };
const sweepFill = seriesColor('sweep');
const trialFill = seriesColor('trial');

/** Elapsed seconds and a value; NaN where there is none. */
type Point = [elapsedS: number, value: number];

/**
 * Both meters over time, from the first reading or trial to the last, with sweeps and trials shaded, and under them the time line of the visit.
 *
 * @param stretches  what the burner did; where none is, it is not known
 */
export function recordChart(
  capture: Capture,
  pressureUnit: PressureUnit,
  signalUnit: SignalUnit,
  stretches: readonly Stretch[],
): Chart {
  const pressure = series(capture, 'pilot_pressure', (value, unit) =>
    convertPressure(value, unit as PressureUnit, pressureUnit),
  );
  const signal = series(
    capture,
    'flame_signal',
    (value, unit) => convertSignal(value, unit as SignalUnit, signalUnit) ?? Number.NaN,
  );
  const items = visitItems(capture);
  const time = extent(
    pressure.map(([t]) => t),
    signal.map(([t]) => t),
    items.flatMap(({ fromS, toS }) => [fromS, toS]),
  );
  const plot = (frame: Frame, points: Point[], titles: { x?: string; y: string }) =>
    axes(frame, time, padded(extent(points.map(([, v]) => v)), 0.05), titles, { x: 9, y: 4 });
  const top = plot(upper, pressure, { y: `Pressure, ${pressureUnitLabel(pressureUnit)}` });
  const bottom = plot(lower, signal, {
    x: 'Time from the start of the capture, s',
    y: `Signal, ${signalUnitLabel(signalUnit)}`,
  });
  const shaded = [
    ...items
      .filter(({ kind, verdict }) => kind === 'sweep' && verdict !== 'discarded')
      .map((item) => ({ ...item, name: 'sweep' as const })),
    ...trialSpansOf(capture.marks).map((span) => ({ ...span, name: 'trial' as const })),
  ];
  const kindOf = kindAt(stretches);
  const isLit = (elapsedS: number) => kindOf(elapsedS) === 'lit';
  const band = visitBand(stretches, items, top.x, lower, lower.bottom + 44);
  const entries = [
    ...(['sweep', 'trial'] as const)
      .filter((name) => shaded.some((span) => span.name === name))
      .map((name) => ({ draw: block(fills[name]), text: seriesStyles[name].name })),
    ...band.entries,
    { draw: lineSample, text: 'flame burns' },
    { draw: dotSample, text: seriesStyles.unlit.name },
  ];
  const keyTop = lower.bottom + 44 + band.height + 14;
  const key = legend(entries, lower.left, keyTop, lower.right);
  const body =
    shaded.map(({ fromS, toS, name }) => shade([fromS, Math.min(toS, time[1])], top.x, fills[name])).join('') +
    top.markup +
    bottom.markup +
    readings(pressure, isLit, top.x, top.y, 'pressure') +
    readings(signal, isLit, bottom.x, bottom.y, 'signal') +
    band.markup +
    key.markup;
  const height = Math.ceil(keyTop + key.height);
  return { svg: drawing(width, height, body), width, height };
}

const fills = { sweep: sweepFill, trial: trialFill };
const block = (fill: string) => (x: number, y: number) =>
  element('rect', { x: x - 10, y: y - 5, width: 20, height: 10, fill, 'fill-opacity': 0.3 });
const lineSample = (x: number, y: number): string =>
  element('line', { x1: x - 10, x2: x + 10, y1: y, y2: y, stroke: seriesColor('signal'), 'stroke-width': 1.5 });
const dotSample = (x: number, y: number): string =>
  element('path', {
    d: [-8, -4, 0, 4, 8].map((dx) => markPath('dot', x + dx, y, 1.6)).join(''),
    fill: seriesColor('signal'),
    stroke: 'none',
  });

/** (elapsed s, value) of one role in time order; NaN where the meter gave no number or no reading. */
function series(
  capture: Capture,
  role: 'pilot_pressure' | 'flame_signal',
  convert: (value: number, unit: string) => number,
): Point[] {
  const points = capture.readings
    .filter((reading) => reading.role === role)
    .map((reading): [number, number] => [reading.elapsedS, convert(reading.value, reading.unit)])
    .sort((a, b) => a[0] - b[0]);
  const spacings = points.slice(1).map(([t], i) => t - points[i]![0]);
  const median = spacings.toSorted((a, b) => a - b)[spacings.length >> 1] ?? 0;
  // Ten missed readings, and never less than 2 s: a late line is no gap, a pause of the logger is one.
  const longest = Math.max(2, 10 * median);
  return points.flatMap((point, i): [number, number][] => {
    const spacing = spacings[i - 1] ?? 0;
    return spacing > longest ? [[point[0] - spacing / 2, Number.NaN], point] : [point];
  });
}

/** Readings of one meter: lines while a flame burns, dots otherwise, so that no line leads through a stretch without a flame. */
function readings(points: Point[], isLit: (elapsedS: number) => boolean, x: Scale, y: Scale, name: SeriesName): string {
  const color = seriesColor(name);
  const dots = new Map<string, string>();
  let lines = '';
  for (let i = 0; i < points.length;) {
    const lit = isLit(points[i]![0]);
    let j = i;
    while (j < points.length && isLit(points[j]![0]) === lit) j += 1;
    const run = points.slice(i, j);
    if (lit) lines += linePath(run, x, y);
    else
      for (const [t, value] of run) {
        const [px, py] = [x(t), y(value)];
        if (Number.isFinite(py)) dots.set(`${Math.round(px / 2)} ${Math.round(py / 2)}`, markPath('dot', px, py, 1.3));
      }
    i = j;
  }
  return (
    element('path', { d: lines, fill: 'none', stroke: color, 'stroke-width': 1.1 }) +
    (dots.size > 0 ? element('path', { d: [...dots.values()].join(''), fill: color, stroke: 'none' }) : '')
  );
}

/**
 * The line through the points, reduced to the first, lowest, highest and last of each pixel column: every spike stays
 * visible and the file does not grow with the length of the capture.
 */
function linePath(points: Point[], x: Scale, y: Scale): string {
  const kept: Point[] = [];
  for (let i = 0; i < points.length;) {
    const column = Math.floor(x(points[i]![0]));
    let j = i;
    // A time that no meter gives may fall on no number, which is not equal to itself.
    while (j < points.length && Object.is(Math.floor(x(points[j]![0])), column)) j += 1;
    const inColumn = points.slice(i, j);
    const byValue = inColumn.filter(([, value]) => Number.isFinite(value)).sort((a, b) => a[1] - b[1]);
    const chosen = new Set([inColumn[0], byValue[0], byValue.at(-1), inColumn.at(-1)]);
    kept.push(...inColumn.filter((point) => chosen.has(point)));
    i = j;
  }
  return pathThrough(kept.map(([t, value]) => [x(t), y(value)] as const));
}

const shade = (span: [number, number], x: Scale, fill: string): string => {
  const left = Math.max(upper.left, x(span[0]));
  const right = Math.min(upper.right, x(span[1]));
  return element('rect', {
    x: left,
    y: upper.top,
    width: Math.max(0, right - left),
    height: lower.bottom - upper.top,
    fill,
    'fill-opacity': 0.2,
  });
};
