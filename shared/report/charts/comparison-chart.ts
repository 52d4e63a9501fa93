import type { AnalysisDetail, ComparisonDetail } from '../../model/results/analysis-result.ts';
import { pressureUnitLabel, signalUnitLabel } from '../../model/format.ts';
import { convertPressure, convertSignal } from '../../model/units.ts';
import type { PressureUnit, SignalUnit } from '../../model/units.ts';
import { axes, legend } from './axes.ts';
import type { Frame } from './axes.ts';
import { type Chart, drawing } from './drawing.ts';
import { extent, padded } from './scale.ts';
import { element, pathThrough, seriesStroke } from './svg.ts';

const width = 720;
const frame: Frame = { left: 62, right: 706, top: 44, bottom: 270 };

/**
 * Both steady-state curves in one chart, and above them a bar from the low to the high end of each signal: what is compared.
 * In the units of the later sweep; the earlier sweep is dashed, the later one solid.
 */
export function comparisonChart({ before, after, result }: ComparisonDetail): Chart {
  const { pressureUnit, signalUnit } = result;
  const sweeps = [
    { ...inUnits(before, pressureUnit, signalUnit), name: 'earlier sweep', stroke: seriesStroke('earlier') },
    { ...inUnits(after, pressureUnit, signalUnit), name: 'this sweep', stroke: seriesStroke('curve') },
  ];
  const { x, y, markup } = axes(
    frame,
    padded(extent(...sweeps.map((sweep) => sweep.pressure)), 0.03),
    padded(extent(...sweeps.map((sweep) => sweep.signal), [0]), 0.05),
    { x: `Pilot pressure, ${pressureUnitLabel(pressureUnit)}`, y: `Flame signal, ${signalUnitLabel(signalUnit)}` },
  );
  const parts = sweeps.map((sweep, i) => {
    const points = sweep.pressure.map((pressure, j) => [x(pressure), y(sweep.signal[j] as number)] as const);
    return (
      element('path', { d: pathThrough(points), fill: 'none', 'stroke-width': 2, ...sweep.stroke }) +
      endsBar(sweep.ends, x, frame.top - 26 + i * 14, sweep.stroke)
    );
  });
  const key = legend(
    sweeps.map((sweep) => ({
      draw: (px: number, py: number) =>
        element('line', {
          x1: px - 10,
          x2: px + 10,
          y1: py,
          y2: py,
          'stroke-width': 2,
          ...sweep.stroke,
        }),
      text: `${sweep.name}: curve, and bar from its low to its high end`,
    })),
    frame.left,
    frame.bottom + 54,
    frame.right,
  );
  const height = Math.ceil(frame.bottom + 54 + key.height);
  return { svg: drawing(width, height, markup + parts.join('') + key.markup), width, height };
}

function endsBar(
  ends: [number, number] | undefined,
  x: (value: number) => number,
  y: number,
  stroke: ReturnType<typeof seriesStroke>,
): string {
  if (!ends) return '';
  const [left, right] = [x(ends[0]), x(ends[1])];
  const post = (px: number) =>
    element('line', { x1: px, x2: px, y1: y - 5, y2: y + 5, stroke: stroke.stroke, 'stroke-width': 2 });
  return (
    element('line', { x1: left, x2: right, y1: y, y2: y, 'stroke-width': 2, ...stroke }) + post(left) + post(right)
  );
}

/** Curve and signal ends in the given units; a signal of another kind cannot be converted and becomes a gap. */
function inUnits({ curve, result }: AnalysisDetail, pressureUnit: PressureUnit, signalUnit: SignalUnit) {
  const pressure = (value: number) => convertPressure(value, result.pressureUnit, pressureUnit);
  const { low, high } = result.signalInterval;
  return {
    pressure: Array.from(curve.pressure, pressure),
    signal: Array.from(curve.signal, (value) => convertSignal(value, result.signalUnit, signalUnit) ?? Number.NaN),
    ends: low && high ? ([pressure(low.value), pressure(high.value)] as [number, number]) : undefined,
  };
}
