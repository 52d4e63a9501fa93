import { useCallback, useMemo, useState } from 'react';
import type { Mark } from '../../shared/model/capture.ts';
import type { Stretch } from '../../shared/model/stretches.ts';
import { pressureUnitLabel, signalUnitLabel } from '../../shared/model/format.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../shared/model/units.ts';
import { seriesStyles } from '../../shared/report/charts/chart-style.ts';
import type { Limits } from '../state/limits.ts';
import type { LiveColumn } from '../state/live/live-buffer.ts';
import type { Recording } from '../state/live/recording.ts';
import { thinScatter } from './geometry/decimate.ts';
import { axisFromZero } from './geometry/axis.ts';
import { useFrames } from './frames.ts';
import { LimitMarks } from './LimitMarks.tsx';
import { LiveMarks, type Drawing } from './Marks.tsx';
import { pairUp, valueAt } from './geometry/pairs.ts';
import { linePath, symbolPath } from './geometry/paths.ts';
import { PlotFrame } from './PlotFrame.tsx';
import { toPixels, type Scales } from './scales.ts';
import { binnedMedians } from './geometry/binned-medians.ts';

const names = [
  'mark-unlit',
  'mark-at-rest',
  'mark-turning-out',
  'mark-turning-in',
  'line-turning-out',
  'line-turning-in',
  'mark-now',
] as const;

/** Marks closer than this many pixels would only cover each other. */
const cellPx = 7;

/** The axes reach at least this far, so that they do not grow with every reading of a usual burner. Our choice. */
const usualPressureInH2O = 5;
const usualSignalV = 5;

/** Flame signal against pilot pressure of the current recording, as it grows. */
export function SweepPlot({
  recording,
  isLive,
  marks,
  stretches,
  limits,
  pressureUnit,
  signalUnit,
}: {
  recording: Recording | undefined;
  isLive: boolean;
  marks: readonly Mark[];
  /** What the burner did: only readings with a flame are joined to a line, and the others have a shape of their own. */
  stretches: readonly Stretch[];
  limits: Limits;
  pressureUnit: PressureUnit;
  signalUnit: SignalUnit;
}) {
  const maxima = useMaxima(recording);
  const x = useMemo(() => {
    const minimum = convertPressure(usualPressureInH2O, 'inH2O', pressureUnit);
    const highest = Math.max(maxima.pressure, minimum, (limits.makerRange?.high ?? 0) * 1.1);
    return { ...axisFromZero(highest), label: `Pilot pressure, ${pressureUnitLabel(pressureUnit)}` };
  }, [maxima.pressure, limits.makerRange?.high, pressureUnit]);
  const y = useMemo(() => {
    const minimum = convertSignal(usualSignalV, 'V', signalUnit) ?? 0;
    const highest = Math.max(maxima.signal * 1.05, minimum, (limits.minimumSignal ?? 0) * 1.5);
    return { ...axisFromZero(highest), label: `Flame signal, ${signalUnitLabel(signalUnit)}` };
  }, [maxima.signal, limits.minimumSignal, signalUnit]);

  const draw = useCallback(
    (scales: Scales): Drawing => {
      if (!recording) return {};
      const pressure = recording.buffer.column('pilot_pressure');
      const signal = recording.buffer.column('flame_signal');
      const pairs = pairUp(pressure, signal, marks, stretches);
      const px = toPixels(pairs.pressure, pairs.length, scales.x);
      const py = toPixels(pairs.signal, pairs.length, scales.y);
      const plotted = thinScatter(px, py, pairs.length, cellPx);
      const inDirection = (direction: number) =>
        plotted.filter((i) => pairs.stretch[i]! >= 0 && pairs.direction[i] === direction);
      const unlit = plotted.filter((i) => pairs.stretch[i]! < 0);
      const burned = new Set(pairs.stretch.subarray(0, pairs.length).filter((stretch) => stretch >= 0));
      const medianLine = (direction: 1 | -1) =>
        [...burned]
          .map((stretch) => {
            const { pressure: p, signal: s } = binnedMedians(pairs, direction, stretch, x.domain);
            return linePath(p.map(scales.x), s.map(scales.y), p.keys());
          })
          .join('');
      const now = isLive ? lastPair(pressure, signal) : undefined;
      return {
        'mark-unlit': symbolPath(seriesStyles.unlit.mark, px, py, unlit, 4),
        'mark-at-rest': symbolPath(seriesStyles['at-rest'].mark, px, py, inDirection(0), 4),
        'mark-turning-out': symbolPath(seriesStyles['turning-out'].mark, px, py, inDirection(-1), 4),
        'mark-turning-in': symbolPath(seriesStyles['turning-in'].mark, px, py, inDirection(1), 4),
        'line-turning-out': medianLine(-1),
        'line-turning-in': medianLine(1),
        'mark-now': now
          ? symbolPath(seriesStyles.now.mark, [scales.x(now.pressure)], [scales.y(now.signal)], [0], 9)
          : '',
      };
    },
    [recording, isLive, marks, stretches, x.domain],
  );
  const version = useCallback(() => recording?.buffer.revision ?? -1, [recording]);

  return (
    <PlotFrame x={x} y={y} description="Flame signal against pilot pressure, as recorded so far">
      <LimitMarks limits={limits} pressureUnit={pressureUnit} signalUnit={signalUnit} />
      <LiveMarks names={names} version={version} draw={draw} />
    </PlotFrame>
  );
}

/** The newest signal with the pressure at its time. */
function lastPair(pressure: LiveColumn, signal: LiveColumn): { pressure: number; signal: number } | undefined {
  const s = signal.value[signal.length - 1];
  const newest = pressure.value[pressure.length - 1];
  if (s === undefined || newest === undefined || Number.isNaN(s)) return undefined;
  return { pressure: valueAt(pressure, signal.elapsedS[signal.length - 1]!) ?? newest, signal: s };
}

/** The greatest pressure and signal so far; a new object only when an axis may have to grow. */
function useMaxima(recording: Recording | undefined): { pressure: number; signal: number } {
  const [maxima, setMaxima] = useState({ recording, revision: -1, pressure: 0, signal: 0 });
  const known = maxima.recording === recording ? maxima : { recording, revision: -1, pressure: 0, signal: 0 };
  useFrames(() => {
    if (!recording || recording.buffer.revision === known.revision) return;
    const pressure = greatest(recording.buffer.column('pilot_pressure'));
    const signal = greatest(recording.buffer.column('flame_signal'));
    if (pressure > known.pressure || signal > known.signal)
      setMaxima({ recording, revision: recording.buffer.revision, pressure, signal });
  });
  return known;
}

function greatest(column: LiveColumn): number {
  let value = 0;
  for (let i = 0; i < column.length; i++) if (column.value[i]! > value) value = column.value[i]!;
  return value;
}
