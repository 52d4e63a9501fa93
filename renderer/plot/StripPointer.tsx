import { type PointerEvent, useRef, useState } from 'react';
import { formatElapsed } from '../../shared/model/format.ts';
import type { TimeSpan } from '../../shared/model/sweeps.ts';
import type { LiveColumn } from '../state/live/live-buffer.ts';
import { nearestReading } from '../state/live/span-statistics.ts';
import { useScales } from './scales.ts';

/** A finger trembles by so many pixels: less is no drag. */
const leastDragPx = 8;
/** A value is shown where a reading lies this near to the pointer, as a share of the time in view. */
const nearShare = 0.02;

/** The reading under the pointer, and a span that is selected by dragging over the plot. */
export function StripPointer({
  column,
  endS,
  spanS,
  valueText,
  selected,
  onSelect,
}: {
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
    const readings = column();
    const place = readings && nearestReading(readings, here.atS, nearShare * spanS);
    if (!readings || place === undefined) {
      setUnder(undefined);
      return;
    }
    const atS = readings.elapsedS[place]!;
    const value = readings.value[place]!;
    const words = Number.isNaN(value) ? 'no number' : valueText(value);
    setUnder({ x: x(atS - end), text: `${formatElapsed(atS)}: ${words}` });
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
