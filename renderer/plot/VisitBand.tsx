import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import { formatElapsed } from '../../shared/model/format.ts';
import type { Stretch } from '../../shared/model/stretches.ts';
import { trialLeadS } from '../../shared/model/trials/unjudged-trials.ts';
import type { VisitItem } from '../../shared/report/charts/visit-items.ts';
import { localSeconds, type Recording } from '../state/live/recording.ts';
import { Shape, type ShapeName } from '../ui/Shape.tsx';
import { Stretches } from './Stretches.tsx';
import { placeButtons } from './geometry/place-buttons.ts';
import './visit-band.css';

/** What a finger needs, pixels. */
const leastButton = 44;

export const verdictWords: Record<VisitItem['verdict'], string> = {
  counts: 'counts',
  discarded: 'discarded',
  running: 'running',
  lit: 'lit',
  'not-lit': 'not lit',
  'not-judged': 'not judged',
};
const verdictShapes: Record<VisitItem['verdict'], ShapeName> = {
  counts: 'solid-square',
  discarded: 'hollow-square',
  running: 'right',
  lit: 'solid-circle',
  'not-lit': 'cross',
  'not-judged': 'half-circle',
};

/** The time line of the visit over the same time as the plots above it: what the burner did, and its sweeps and trials to pick. */
export function VisitBand({
  recording,
  isLive,
  spanS,
  endS: fixedEndS,
  stretches,
  items,
  selected,
  onSelect,
}: {
  recording: Recording | undefined;
  isLive: boolean;
  spanS: number;
  /** Seconds of the recording at the right edge; undefined follows the newest reading. */
  endS: number | undefined;
  stretches: readonly Stretch[];
  items: readonly VisitItem[];
  selected: VisitItem | undefined;
  onSelect: (item: VisitItem) => void;
}) {
  const newestS = useEnd(recording, isLive);
  const endS = fixedEndS ?? newestS;
  const [box, width] = useWidth();
  const x = (seconds: number) => Math.min(width, Math.max(0, (width * (seconds - endS + spanS)) / spanS));
  const shown = items
    .filter(({ fromS, toS }) => fromS <= endS && toS >= endS - spanS)
    .sort((a, b) => a.fromS - b.fromS);
  const places = placeButtons(
    shown.map(({ fromS, toS }) => [x(fromS), x(Math.min(toS, endS))] as const),
    width,
    leastButton,
  );
  return (
    <section className="visit-band" ref={box} aria-label="Time line of the visit">
      <Stretches stretches={stretches} endS={endS} x={x} width={width} />
      {shown.length > 0 && (
        <div className="visit-items">
          {shown.map((item, i) => (
            <button
              key={`${item.kind} ${item.fromS}`}
              type="button"
              className="visit-item"
              data-verdict={item.verdict}
              aria-pressed={selected !== undefined && isSameItem(item, selected)}
              aria-label={describeItem(item)}
              style={{ left: places[i]!.left, width: places[i]!.width }}
              onClick={() => onSelect(item)}
            >
              <Shape name={verdictShapes[item.verdict]} size={14} />
              <span>{`${item.kind === 'sweep' ? 'S' : 'T'}${item.number ?? (item.verdict === 'running' ? '' : '?')}`}</span>
            </button>
          ))}
        </div>
      )}
    </section>
  );
}

/** Whether both are one: a running trial gets its number and its first reading with gas, a little earlier, when it is over. */
export const isSameItem = (one: VisitItem, other: VisitItem): boolean =>
  one.kind === other.kind && Math.abs(one.fromS - other.fromS) <= (one.kind === 'trial' ? trialLeadS : 0);

/** "Sweep 1, 0:25.0 to 1:10.0, discarded". */
const describeItem = ({ name, fromS, toS, verdict }: VisitItem): string =>
  `${name}, ${formatElapsed(fromS)} to ${toS === Infinity ? 'now' : formatElapsed(toS)}, ${verdictWords[verdict]}`;

/** The end of the time that is shown, a few times a second while it moves. */
function useEnd(recording: Recording | undefined, isLive: boolean): number {
  const [endS, setEnd] = useState(0);
  useEffect(() => {
    const tick = () => {
      const now = isLive ? recording?.clock.at(localSeconds()) : undefined;
      setEnd(Math.max(recording?.buffer.endS ?? 0, now ?? 0));
    };
    tick();
    const timer = setInterval(tick, 200);
    return () => clearInterval(timer);
  }, [recording, isLive]);
  return endS;
}

/** The width inside an element, as it changes. */
function useWidth() {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    if (!box.current) return undefined;
    const observer = new ResizeObserver(([entry]) => setWidth(entry?.contentRect.width ?? 0));
    observer.observe(box.current);
    return () => observer.disconnect();
  }, []);
  return [box, width] as const;
}
