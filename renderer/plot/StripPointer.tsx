import { type KeyboardEvent, type PointerEvent, useRef, useState } from 'react';
import { formatElapsed } from '../../shared/model/format.ts';
import type { TimeSpan } from '../../shared/model/sweeps.ts';
import type { LiveColumn } from '../state/live/live-buffer.ts';
import { nearestReading } from '../state/live/span-statistics.ts';
import { keyMove } from './geometry/time-view.ts';
import { useScales } from './scales.ts';

/** A finger trembles by so many pixels: less is no drag. */
const leastDragPx = 8;
/** A value is shown where a reading lies this near to the pointer, as a share of the time in view. */
const nearShare = 0.02;

/**
 * The reading under the pointer, and a span that is selected by dragging over the plot. By keyboard: the arrows move the pointer, and
 * select with Shift.
 */
export function StripPointer({
  label,
  column,
  endS,
  spanS,
  valueText,
  selected,
  onSelect,
}: {
  /** What the plot shows. */
  label: string;
  column: () => LiveColumn | undefined;
  /** Seconds of the recording at the right edge, as they are now. */
  endS: () => number;
  spanS: number;
  valueText: (value: number) => string;
  selected: TimeSpan | undefined;
  /** Called while a span is dragged over; the view then stands still. */
  onSelect: (span: TimeSpan, endS: number) => void;
}) {
  const scales = useScales();
  const [under, setUnder] = useState<{ x: number; text: string }>();
  const drag = useRef<{ x: number; atS: number; endS: number } | undefined>(undefined);
  /** Where the keyboard has put the pointer, and from where it selects, seconds of the recording. */
  const [keyAtS, setKeyAtS] = useState<number>();
  const keyFromS = useRef<number | undefined>(undefined);
  if (!scales) return null;
  const { area, x } = scales;

  const momentAt = (event: PointerEvent<SVGRectElement>, end: number) => {
    const box = event.currentTarget.getBoundingClientRect();
    const share = Math.min(1, Math.max(0, (event.clientX - box.left) / box.width));
    return { x: area.x + share * area.width, atS: end - spanS + share * spanS };
  };
  const move = (event: PointerEvent<SVGRectElement>) => {
    const end = drag.current?.endS ?? endS();
    const here = momentAt(event, end);
    const from = drag.current;
    if (from && Math.abs(here.x - from.x) >= leastDragPx)
      onSelect({ fromS: Math.max(0, Math.min(from.atS, here.atS)), toS: Math.max(from.atS, here.atS) }, end);
    show(here.atS, end);
  };
  const show = (momentS: number, end: number) => {
    const readings = column();
    const place = readings && nearestReading(readings, momentS, nearShare * spanS);
    if (!readings || place === undefined) {
      setUnder(undefined);
      return;
    }
    const atS = readings.elapsedS[place]!;
    const value = readings.value[place]!;
    const words = Number.isNaN(value) ? 'no number' : valueText(value);
    setUnder({ x: x(atS - end), text: `${formatElapsed(atS)}: ${words}` });
  };
  const moveByKey = (event: KeyboardEvent<SVGRectElement>) => {
    const end = endS();
    const before = keyAtS ?? end;
    const atS = keyMove(event.key, before, end, spanS);
    if (atS === undefined) return;
    event.preventDefault();
    setKeyAtS(atS);
    show(atS, end);
    if (!event.shiftKey) {
      keyFromS.current = undefined;
      return;
    }
    const fromS = (keyFromS.current ??= before);
    if (fromS !== atS) onSelect({ fromS: Math.min(fromS, atS), toS: Math.max(fromS, atS) }, end);
  };
  const isLeft = under !== undefined && under.x > area.x + area.width / 2;
  const edges = selected && ([x(selected.fromS - endS()), x(selected.toS - endS())] as const);
  return (
    <g>
      {edges && (
        <rect className="selected-span" x={edges[0]} width={edges[1] - edges[0]} y={area.y} height={area.height} />
      )}
      {under && (
        <>
          <line className="pointer-line" x1={under.x} x2={under.x} y1={area.y} y2={area.y + area.height} />
          <text
            className="plot-label"
            x={under.x + (isLeft ? -6 : 6)}
            y={area.y + 14}
            textAnchor={isLeft ? 'end' : 'start'}
          >
            {under.text}
          </text>
        </>
      )}
      <rect
        {...area}
        className="pointer-area"
        tabIndex={0}
        // oxlint-disable-next-line jsx-a11y/prefer-tag-over-role -- SVG has no input element
        role="slider"
        aria-label={`Value of ${label.toLowerCase()} at a time`}
        aria-valuemin={Math.max(0, Math.round(endS() - spanS))}
        aria-valuemax={Math.round(endS())}
        aria-valuenow={Math.round(keyAtS ?? endS())}
        aria-valuetext={under?.text ?? 'no reading'}
        onKeyDown={moveByKey}
        onBlur={() => setUnder(undefined)}
        onPointerDown={(event) => {
          const end = endS();
          drag.current = { ...momentAt(event, end), endS: end };
          event.currentTarget.setPointerCapture(event.pointerId);
          move(event);
        }}
        onPointerMove={move}
        onPointerUp={() => (drag.current = undefined)}
        onPointerCancel={() => (drag.current = undefined)}
        onPointerLeave={() => setUnder(undefined)}
      />
    </g>
  );
}
