import type { Capture } from '../../model/capture.ts';
import { pressureUnitLabel, signalUnitLabel } from '../../model/format.ts';
import { sweepsOf } from '../../model/sweeps.ts';
import { convertPressure, convertSignal } from '../../model/units.ts';
import type { PressureUnit, SignalUnit } from '../../model/units.ts';
import { axes, legend } from './axes.ts';
import type { Frame } from './axes.ts';
import { type Chart, drawing } from './drawing.ts';
import { seriesStyles } from './chart-style.ts';
import { extent, padded } from './scale.ts';
import type { Scale } from './scale.ts';
import { element, pathThrough, seriesColor } from './svg.ts';

const width = 720;
const upper: Frame = { left: 62, right: 706, top: 12, bottom: 142 };
const lower: Frame = { left: 62, right: 706, top: 158, bottom: 288 };
const sweepFill = seriesColor('sweep');
const trialFill = seriesColor('trial');

/** Both meters over time, from the first reading to the last, with sweeps and trials shaded. */
export function recordChart(capture: Capture, pressureUnit: PressureUnit, signalUnit: SignalUnit): Chart {
  const pressure = series(capture, 'pilot_pressure', (value, unit) =>
    convertPressure(value, unit as PressureUnit, pressureUnit),
  );
  const signal = series(
    capture,
    'flame_signal',
    (value, unit) => convertSignal(value, unit as SignalUnit, signalUnit) ?? Number.NaN,
  );
  const time = extent(
    pressure.map(([t]) => t),
    signal.map(([t]) => t),
  );
  const top = axes(
    upper,
    time,
    padded(extent(pressure.map(([, v]) => v)), 0.05),
    { y: `Pressure, ${pressureUnitLabel(pressureUnit)}` },
    { x: 9, y: 4 },
  );
  const bottom = axes(
    lower,
    time,
    padded(extent(signal.map(([, v]) => v)), 0.05),
    { x: 'Time from the start of the capture, s', y: `Signal, ${signalUnitLabel(signalUnit)}` },
    { x: 9, y: 4 },
  );
  const spans = [
    ...sweepsOf(capture.marks)
      .filter(({ isVoid }) => !isVoid)
      .map(({ fromS, toS }) => ({ span: [fromS, Math.min(toS, time[1])] as [number, number], fill: sweepFill })),
    ...trialSpans(capture, time[1]).map((span) => ({ span, fill: trialFill })),
  ];
  const body =
    spans.map(({ span, fill }) => shade(span, top.x, fill)).join('') +
    top.markup +
    bottom.markup +
    line(pressure, top.x, top.y, seriesColor('pressure')) +
    line(signal, bottom.x, bottom.y, seriesColor('signal'));
  const block = (fill: string) => (px: number, py: number) =>
    element('rect', { x: px - 10, y: py - 5, width: 20, height: 10, fill, 'fill-opacity': 0.3 });
  const shown = [
    spans.some((each) => each.fill === sweepFill) && { draw: block(sweepFill), text: seriesStyles.sweep.name },
    spans.some((each) => each.fill === trialFill) && { draw: block(trialFill), text: seriesStyles.trial.name },
  ].filter((entry) => entry !== false);
  const key = shown.length > 0 ? legend(shown, lower.left, lower.bottom + 54, lower.right) : { markup: '', height: 0 };
  const height = Math.ceil(lower.bottom + (key.height ? 54 : 40) + key.height);
  return { svg: drawing(width, height, body + key.markup), width, height };
}

/** (elapsed s, value) of one role in time order; NaN where the meter gave no number or no reading. */
function series(
  capture: Capture,
  role: 'pilot_pressure' | 'flame_signal',
  convert: (value: number, unit: string) => number,
): [number, number][] {
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

/**
 * The line through the points, reduced to the first, lowest, highest and last of each pixel column: every spike stays
 * visible and the file does not grow with the length of the capture.
 */
function line(points: [number, number][], x: Scale, y: Scale, stroke: string): string {
  const kept: [number, number][] = [];
  for (let i = 0; i < points.length;) {
    const column = Math.floor(x((points[i] as [number, number])[0]));
    let j = i;
    while (j < points.length && Math.floor(x((points[j] as [number, number])[0])) === column) j += 1;
    const inColumn = points.slice(i, j);
    const byValue = inColumn.filter(([, value]) => Number.isFinite(value)).sort((a, b) => a[1] - b[1]);
    const chosen = new Set([inColumn[0], byValue[0], byValue.at(-1), inColumn.at(-1)]);
    kept.push(...inColumn.filter((point) => chosen.has(point)));
    i = j;
  }
  return element('path', {
    d: pathThrough(kept.map(([t, value]) => [x(t), y(value)] as const)),
    fill: 'none',
    stroke,
    'stroke-width': 1.1,
  });
}

/** Trials, each from its start mark to the next end mark; one that was never ended runs to `until`. */
function trialSpans(capture: Capture, until: number): [number, number][] {
  const spans: [number, number][] = [];
  let from: number | undefined;
  for (const mark of [...capture.marks].sort((a, b) => a.elapsedS - b.elapsedS)) {
    if (mark.kind === 'trial-start') from ??= mark.elapsedS;
    if (mark.kind === 'trial-end' && from !== undefined) {
      spans.push([from, mark.elapsedS]);
      from = undefined;
    }
  }
  if (from !== undefined) spans.push([from, until]);
  return spans;
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
