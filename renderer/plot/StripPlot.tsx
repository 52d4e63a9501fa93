import { memo, useCallback, useMemo, useRef, useState } from 'react';
import { formatElapsed } from '../../shared/model/format.ts';
import { type Stretch, stretchAt } from '../../shared/model/stretches.ts';
import type { Role } from '../../shared/model/reading.ts';
import { thinLine } from '../../shared/model/thin-line.ts';
import { firstAfter } from '../state/live/live-buffer.ts';
import { localSeconds, type Recording } from '../state/live/recording.ts';
import { contiguousSpans, thinScatter } from './geometry/decimate.ts';
import { axisFromZero, axisOfTimeAgo, axisUntil } from './geometry/axis.ts';
import { useFrames } from './frames.ts';
import { LiveMarks, type Drawing } from './Marks.tsx';
import { linePath, symbolPath } from './geometry/paths.ts';
import { PlotFrame } from './PlotFrame.tsx';
import { StripPointer } from './StripPointer.tsx';
import type { TimeSpan } from '../../shared/model/sweeps.ts';
import { createTimeOverview } from './geometry/time-overview.ts';
import type { Scales } from './scales.ts';

/** Dots closer than this many pixels would look like a line. */
const dotCellPx = 6;

/** One channel against time, the newest at the right. The axis gives the age of a reading, so that only the line moves. */
export const StripPlot = memo(function StripPlot({
  recording,
  channel,
  label,
  spanS,
  endS,
  minimumTop,
  isLive,
  showsTime,
  stretches,
  valueText,
  selected,
  onSelect,
}: {
  recording: Recording | undefined;
  channel: Role;
  label: string;
  spanS: number;
  /** Seconds of the recording at the right edge; undefined follows the newest reading. */
  endS: number | undefined;
  /** The axis reaches at least this high, so that noise near zero does not fill it. */
  minimumTop: number;
  isLive: boolean;
  showsTime: boolean;
  /** What the burner did: a line is drawn while a flame burns, dots otherwise. */
  stretches: readonly Stretch[];
  /** A value with its unit, under the pointer. */
  valueText: (value: number) => string;
  selected: TimeSpan | undefined;
  onSelect: (span: TimeSpan, endS: number) => void;
}) {
  // Of this recording and this channel: a frame costs only what is new.
  const overview = useMemo(() => ({ recording, channel, ...createTimeOverview() }), [recording, channel]);
  const highest = Math.max(minimumTop, useHighest(recording, channel, spanS, endS, overview));
  const y = useMemo(() => ({ ...axisFromZero(highest, 0, 1), label: '' }), [highest]);
  const x = useMemo(
    () => (endS === undefined ? timeAxis(spanS, showsTime, isLive ? 'now' : 'end') : clockAxis(endS, spanS, showsTime)),
    [spanS, endS, showsTime, isLive],
  );
  const nowS = useCallback(() => endS ?? endOf(recording, isLive), [recording, isLive, endS]);
  const series = channel === 'flame_signal' ? 'signal' : 'pressure';

  const draw = useCallback(
    (scales: Scales): Drawing => {
      if (!recording) return {};
      const column = recording.buffer.column(channel);
      const end = nowS();
      const from = Math.max(0, firstAfter(column, end - spanS) - 1);
      const until = endS === undefined ? column.length : Math.min(column.length, firstAfter(column, end) + 1);
      const { places, pauseS } = overview.pick(column, from, spanS, until);
      const { length } = places;
      const times = Float64Array.from(places, (place) => column.elapsedS[place]!);
      const px = times.map((t) => scales.x(t - end));
      const py = Float64Array.from(places, (place) => scales.y(column.value[place]!));
      const at = stretchAt(stretches);
      let lines = '';
      let dots = '';
      for (const [begin, until] of contiguousSpans(times, 0, length, at, pauseS)) {
        if (stretches[at(times[begin]!)]?.kind === 'lit') lines += linePath(px, py, thinLine(px, py, begin, until));
        else {
          const [dotX, dotY] = [px.subarray(begin, until), py.subarray(begin, until)];
          dots += symbolPath('dot', dotX, dotY, thinScatter(dotX, dotY, until - begin, dotCellPx), 3);
        }
      }
      return { [`line-${series}`]: lines, [`dots-${series}`]: dots };
    },
    [recording, channel, overview, spanS, endS, nowS, series, stretches],
  );
  // While live the line moves on every frame; the plot of an opened capture does not change.
  const version = useCallback(
    () => (isLive && endS === undefined ? localSeconds() : (recording?.buffer.revision ?? -1)),
    [isLive, endS, recording],
  );

  return (
    <PlotFrame x={x} y={y} description={`${label} against time`}>
      <LiveMarks names={[`line-${series}`, `dots-${series}`]} version={version} draw={draw} />
      <StripPointer
        label={label}
        column={() => recording?.buffer.column(channel)}
        endS={nowS}
        spanS={spanS}
        valueText={valueText}
        selected={selected}
        onSelect={onSelect}
      />
    </PlotFrame>
  );
});

function endOf(recording: Recording | undefined, isLive: boolean): number {
  if (!recording) return 0;
  const clock = isLive ? recording.clock.at(localSeconds()) : undefined;
  return Math.max(recording.buffer.endS, clock ?? 0);
}

function timeAxis(spanS: number, showsTime: boolean, end: string) {
  const format = (t: number) => {
    if (t === 0) return end;
    return -t % 60 === 0 ? `${-t / 60} min` : `${-t} s`;
  };
  return { ...axisOfTimeAgo(spanS), label: '', format: showsTime ? format : () => '' };
}

/** The recording's own clock below a part of it that stands still. */
const clockAxis = (endS: number, spanS: number, showsTime: boolean) => ({
  ...axisUntil(endS, spanS),
  label: '',
  // Whole seconds need no tenths.
  format: showsTime ? (t: number) => formatElapsed(endS + t).replace(/\.0$/u, '') : () => '',
});

/** Greatest value in view; it changes only when it grew, or shrank by much, so that the axis does not jump about. */
function useHighest(
  recording: Recording | undefined,
  role: Role,
  spanS: number,
  endS: number | undefined,
  overview: ReturnType<typeof createTimeOverview>,
): number {
  const [highest, setHighest] = useState(1);
  const seen = useRef({ overview, spanS, endS, revision: -1 });
  useFrames(() => {
    if (!recording) return;
    const { revision } = recording.buffer;
    const before = seen.current;
    const isSameView = before.overview === overview && before.spanS === spanS && before.endS === endS;
    if (isSameView && before.revision === revision) return;
    seen.current = { overview, spanS, endS, revision };
    const column = recording.buffer.column(role);
    let greatest = 0;
    const end = endS ?? recording.buffer.endS;
    const until = endS === undefined ? column.length : firstAfter(column, end);
    const { places } = overview.pick(column, firstAfter(column, end - spanS), spanS, until);
    for (let i = 0; i < places.length; i++) {
      const value = column.value[places[i]!]!;
      if (value > greatest) greatest = value;
    }
    if (greatest > highest || greatest < highest * 0.4) setHighest(greatest || 1);
  });
  return highest;
}
