import { useCallback, useMemo, useState } from 'react';
import type { Mark } from '../../shared/model/capture.ts';
import { pressureUnitLabel, signalUnitLabel } from '../../shared/model/format.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../shared/model/units.ts';
import { seriesStyles } from '../../shared/report/chart-style.ts';
import type { Limits } from '../state/current-capture.ts';
import type { LiveColumn } from '../state/live/live-buffer.ts';
import type { Recording } from '../state/live/recording.ts';
import { thinScatter } from './geometry/decimate.ts';
import { axisFromZero } from './geometry/axis.ts';
import { useFrames } from './frames.ts';
import { LimitMarks } from './LimitMarks.tsx';
import { LiveMarks, type Drawing } from './Marks.tsx';
import { pairUp, stretches, valueAt } from './geometry/pairs.ts';
import { linePath, symbolPath } from './geometry/paths.ts';
import { PlotFrame } from './PlotFrame.tsx';
import { toPixels, type Scales } from './scales.ts';
import { binnedMedians } from './geometry/binned-medians.ts';

const names = [
  'mark-at-rest',
  'mark-turning-out',
  'mark-turning-in',
  'line-turning-out',
  'line-turning-in',
  'mark-now',
] as const;

/** Symbols nearer than this many pixels would only blacken each other. */
const symbolCell = 7;

/** Room kept on the axes before the first reading: the usual reach of a pilot gauge and of an amplifier. Practice. */
const usualPressureInH2O = 5;
const usualSignalV = 5;

/** Flame signal against pilot pressure of the recording at hand, as it grows. */
export function SweepPlot({
  recording,
  isLive,
  marks,
  limits,
  pressureUnit,
  signalUnit,
}: {
  recording: Recording | undefined;
  isLive: boolean;
  marks: readonly Mark[];
  limits: Limits;
  pressureUnit: PressureUnit;
  signalUnit: SignalUnit;
}) {
  const reach = useReach(recording);
  const x = useMemo(() => {
    const least = convertPressure(usualPressureInH2O, 'inH2O', pressureUnit);
    const highest = Math.max(reach.pressure, least, (limits.makerRange?.high ?? 0) * 1.1);
    return { ...axisFromZero(highest), label: `Pilot pressure, ${pressureUnitLabel(pressureUnit)}` };
  }, [reach.pressure, limits.makerRange?.high, pressureUnit]);
  const y = useMemo(() => {
    const least = convertSignal(usualSignalV, 'V', signalUnit) ?? 0;
    const highest = Math.max(reach.signal * 1.05, least, (limits.minimumSignal ?? 0) * 1.5);
    return { ...axisFromZero(highest), label: `Flame signal, ${signalUnitLabel(signalUnit)}` };
  }, [reach.signal, limits.minimumSignal, signalUnit]);

  const sweeps = useMemo(() => stretches(marks, 'sweep'), [marks]);
  const trials = useMemo(() => stretches(marks, 'trial'), [marks]);
  const draw = useCallback(
    (scales: Scales): Drawing => {
      if (!recording) return {};
      const pressure = recording.buffer.column('pilot_pressure');
      const signal = recording.buffer.column('flame_signal');
      const pairs = pairUp(pressure, signal, sweeps, trials);
      const px = toPixels(pairs.pressure, pairs.length, scales.x);
      const py = toPixels(pairs.signal, pairs.length, scales.y);
      const kept = thinScatter(px, py, pairs.length, symbolCell);
      const going = (direction: number) => kept.filter((i) => pairs.direction[i] === direction);
      const trend = (direction: 1 | -1) => {
        const { pressure: p, signal: s } = binnedMedians(pairs, direction, x.domain);
        return linePath(p.map(scales.x), s.map(scales.y), p.keys());
      };
      const now = isLive ? lastPair(pressure, signal) : undefined;
      return {
        'mark-at-rest': symbolPath(seriesStyles['at-rest'].mark, px, py, going(0), 4),
        'mark-turning-out': symbolPath(seriesStyles['turning-out'].mark, px, py, going(-1), 4),
        'mark-turning-in': symbolPath(seriesStyles['turning-in'].mark, px, py, going(1), 4),
        'line-turning-out': trend(-1),
        'line-turning-in': trend(1),
        'mark-now': now
          ? symbolPath(seriesStyles.now.mark, [scales.x(now.pressure)], [scales.y(now.signal)], [0], 9)
          : '',
      };
    },
    [recording, isLive, sweeps, trials, x.domain],
  );
  const version = useCallback(() => recording?.buffer.revision ?? -1, [recording]);

  return (
    <PlotFrame x={x} y={y} says="Flame signal against pilot pressure, as recorded so far">
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

/** The greatest pressure and signal so far; changes only when an axis may have to grow. */
function useReach(recording: Recording | undefined): { pressure: number; signal: number } {
  const [reach, setReach] = useState({ recording, revision: -1, pressure: 0, signal: 0 });
  const known = reach.recording === recording ? reach : { recording, revision: -1, pressure: 0, signal: 0 };
  useFrames(() => {
    if (!recording || recording.buffer.revision === known.revision) return;
    const pressure = greatest(recording.buffer.column('pilot_pressure'));
    const signal = greatest(recording.buffer.column('flame_signal'));
    if (pressure > known.pressure || signal > known.signal)
      setReach({ recording, revision: recording.buffer.revision, pressure, signal });
  });
  return known;
}

function greatest(column: LiveColumn): number {
  let most = 0;
  for (let i = 0; i < column.length; i++) if (column.value[i]! > most) most = column.value[i]!;
  return most;
}
