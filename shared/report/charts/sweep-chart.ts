import type { AnalysisDetail } from '../../model/results/analysis-result.ts';
import type { Trial } from '../../model/capture.ts';
import { pressureUnitLabel, signalUnitLabel } from '../../model/format.ts';
import type { Setup } from '../../model/setup.ts';
import { litAt } from '../../model/stretches.ts';
import { convertPressure } from '../../model/units.ts';
import { axes, legend } from './axes.ts';
import type { LegendEntry } from './axes.ts';
import { seriesStyles, type SeriesName } from './chart-style.ts';
import { type Chart, drawing } from './drawing.ts';
import { extent, padded } from './scale.ts';
import type { Scale } from './scale.ts';
import { element, pathBetween, pathThrough, seriesColor, seriesMarks, seriesOutline, seriesStroke } from './svg.ts';
import { frame, width } from './sweep-frame.ts';
import { makerBar, requiredLabel, uprights } from './sweep-labels.ts';
import { windowBand } from './uprights.ts';
import { sparkOf, trialMark, trialStrip, type Tried } from './trial-strip.ts';

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
  // Not by the band: at a cliff, where hardly anything is known of the curve, it is many times as high as any signal.
  const ySpan = padded(extent(pairs.signal, curve.signal, [0, result.requiredSignal.value]), 0.03);
  const { x, y, markup } = axes(frame, xSpan, ySpan, {
    x: `Pilot pressure, ${pressureUnitLabel(pressureUnit)}`,
    y: `Flame signal, ${signalUnitLabel(signalUnit)}`,
  });
  const strip = trialStrip(tried, x, frame.bottom + 52, frame);
  const required = y(result.requiredSignal.value);
  const key = legend(entries(analysis, tried), frame.left, frame.bottom + 60 + strip.height, frame.right);
  const height = Math.ceil(frame.bottom + 60 + strip.height + key.height);

  const body = [
    guardedWindow(analysis, x),
    markup,
    readings(analysis, x, y),
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

function guardedWindow({ result: { window } }: AnalysisDetail, x: Scale): string {
  const { low, high } = window;
  return low && high && low.guarded < high.guarded ? windowBand(x(low.guarded), x(high.guarded), frame) : '';
}

/**
 * One mark per reading; readings of one direction whose marks would overlap are drawn once, so that a long dwell does
 * not become a blot and the file stays small.
 */
function readings({ pairs, result }: AnalysisDetail, x: Scale, y: Scale): string {
  const isLit = litAt(result.phases);
  const lit = pairs.elapsedS.map((t) => Number(isLit(t)));
  const directions = [
    { direction: undefined, name: 'unlit' },
    { direction: 0, name: 'at-rest' },
    { direction: 1, name: 'turning-in' },
    { direction: -1, name: 'turning-out' },
  ] as const;
  return directions
    .map(({ direction, name }) => {
      const taken = new Set<string>();
      let path = '';
      for (let i = 0; i < pairs.pressure.length; i += 1) {
        if ((lit[i] === 1 ? Math.sign(pairs.direction[i] as number) : undefined) !== direction) continue;
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
  const inside = (value: number) => Math.min(frame.bottom, Math.max(frame.top, y(value)));
  const between = Array.from(pressure, (p, i) => [x(p), inside(low[i]!), inside(high[i]!)] as const);
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

function entries({ pairs, result }: AnalysisDetail, tried: Tried[]): LegendEntry[] {
  const isLit = litAt(result.phases);
  const lit = pairs.elapsedS.map((t) => Number(isLit(t)));
  const has = (direction: number) => pairs.direction.some((value, i) => lit[i] === 1 && Math.sign(value) === direction);
  const mark = (name: SeriesName) => (px: number, py: number) => seriesMarks(name, seriesOutline(name, px, py, 4), 1.2);
  const band = (name: SeriesName, opacity: number) => (px: number, py: number) =>
    element('rect', { x: px - 10, y: py - 5, width: 20, height: 10, fill: seriesColor(name), 'fill-opacity': opacity });
  const list: (LegendEntry | false)[] = [
    has(1) && { draw: mark('turning-in'), text: seriesStyles['turning-in'].name },
    has(-1) && { draw: mark('turning-out'), text: seriesStyles['turning-out'].name },
    has(0) && { draw: mark('at-rest'), text: seriesStyles['at-rest'].name },
    lit.includes(0) && { draw: mark('unlit'), text: seriesStyles.unlit.name },
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
