import { memo, useCallback, useMemo, useState } from 'react';
import type { Mark } from '../../shared/model/capture.ts';
import type { Stretch } from '../../shared/model/stretches.ts';
import { pressureUnitLabel, signalUnitLabel } from '../../shared/model/format.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../shared/model/units.ts';
import { seriesStyles } from '../../shared/report/charts/chart-style.ts';
import type { Limits } from '../state/limits.ts';
import type { LiveColumn } from '../state/live/live-buffer.ts';
import type { Recording } from '../state/live/recording.ts';
import { axisFromZero } from './geometry/axis.ts';
import { createBinnedMedians } from './geometry/binned-medians.ts';
import { createNewestInCells } from './geometry/newest-in-cells.ts';
import { useFrames } from './frames.ts';
import { LimitMarks } from './LimitMarks.tsx';
import { LiveMarks, type Drawing } from './Marks.tsx';
import { createPairing, valueAt } from './geometry/pairs.ts';
import { linePath, symbolPath } from './geometry/paths.ts';
import { PlotFrame } from './PlotFrame.tsx';
import { type Scales } from './scales.ts';

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
export const SweepPlot = memo(function SweepPlot({
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

  // What was drawn of this recording: a frame costs only what is new.
  const grown = useMemo(
    () => ({ recording, pairing: createPairing(), cells: createNewestInCells(cellPx), medians: createBinnedMedians() }),
    [recording],
  );
  const draw = useCallback(
    (scales: Scales): Drawing => {
      if (!recording) return {};
      const pressure = recording.buffer.column('pilot_pressure');
      const signal = recording.buffer.column('flame_signal');
      const pairs = grown.pairing.update(pressure, signal, marks, stretches);
      const plotted = grown.cells.update(pairs, scales);
      const px = plotted.map((i) => scales.x(pairs.pressure[i]!));
      const py = plotted.map((i) => scales.y(pairs.signal[i]!));
      const drawn = [...plotted.keys()];
      const inDirection = (direction: number) =>
        drawn.filter((k) => pairs.stretch[plotted[k]!]! >= 0 && pairs.direction[plotted[k]!] === direction);
      const unlit = drawn.filter((k) => pairs.stretch[plotted[k]!]! < 0);
      const lines = grown.medians.update(pairs, x.domain);
      const medianLine = (direction: 1 | -1) =>
        lines
          .filter((line) => line.direction === direction)
          .map(({ medians: { pressure: p, signal: s } }) => linePath(p.map(scales.x), s.map(scales.y), p.keys()))
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
    [recording, grown, isLive, marks, stretches, x.domain],
  );
  const version = useCallback(() => recording?.buffer.revision ?? -1, [recording]);

  return (
    <PlotFrame x={x} y={y} description="Flame signal against pilot pressure, as recorded so far">
      <LimitMarks limits={limits} pressureUnit={pressureUnit} signalUnit={signalUnit} />
      <LiveMarks names={names} version={version} draw={draw} />
    </PlotFrame>
  );
});

/** The newest signal with the pressure at its time. */
function lastPair(pressure: LiveColumn, signal: LiveColumn): { pressure: number; signal: number } | undefined {
  const s = signal.value[signal.length - 1];
  const newest = pressure.value[pressure.length - 1];
  if (s === undefined || newest === undefined || Number.isNaN(s)) return undefined;
  return { pressure: valueAt(pressure, signal.elapsedS[signal.length - 1]!) ?? newest, signal: s };
}

/** The greatest pressure and signal so far; a new object only when an axis may have to grow. */
function useMaxima(recording: Recording | undefined): { pressure: number; signal: number } {
  const [maxima, setMaxima] = useState({ recording, pressure: 0, signal: 0 });
  const known = maxima.recording === recording ? maxima : { recording, pressure: 0, signal: 0 };
  useFrames(() => {
    if (!recording) return;
    const pressure = recording.buffer.column('pilot_pressure').greatest;
    const signal = recording.buffer.column('flame_signal').greatest;
    if (pressure > known.pressure || signal > known.signal) setMaxima({ recording, pressure, signal });
  });
  return known;
}
