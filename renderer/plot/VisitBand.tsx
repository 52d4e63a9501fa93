import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import { formatElapsed } from '../../shared/model/format.ts';
import { type Stretch, stretchKinds } from '../../shared/model/stretches.ts';
import { stretchStyles } from '../../shared/report/charts/chart-style.ts';
import { stretchPath } from '../../shared/report/charts/stretch-path.ts';
import type { VisitItem } from '../../shared/report/charts/visit-items.ts';
import { localSeconds, type Recording } from '../state/live/recording.ts';
import { Shape, type ShapeName } from '../ui/Shape.tsx';
import { placeButtons } from './geometry/place-buttons.ts';
import './visit-band.css';

const height = 18;
/** Narrower than this a stretch has no room for its letter, pixels. */
const letterWidth = 13;
/** What a finger needs, pixels. */
const leastButton = 44;

export const verdictWords: Record<VisitItem['verdict'], string> = {
  counts: 'counts',
  discarded: 'discarded',
  running: 'running',
  lit: 'lit',
  'not-lit': 'not lit',
};
const verdictShapes: Record<VisitItem['verdict'], ShapeName> = {
  counts: 'solid-square',
  discarded: 'hollow-square',
  running: 'right',
  lit: 'solid-circle',
  'not-lit': 'cross',
};

/** The time line of the visit over the same time as the plots above it: what the burner did, and its sweeps and trials to pick. */
export function VisitBand({
  recording,
  isLive,
  spanS,
  stretches,
  items,
  selected,
  onSelect,
}: {
  recording: Recording | undefined;
  isLive: boolean;
  spanS: number;
  stretches: readonly Stretch[];
  items: readonly VisitItem[];
  selected: VisitItem | undefined;
  onSelect: (item: VisitItem) => void;
}) {
  const endS = useEnd(recording, isLive);
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
              key={`${item.kind} ${item.number}`}
              type="button"
              className="visit-item"
              data-verdict={item.verdict}
              aria-pressed={selected?.kind === item.kind && selected.number === item.number}
              aria-label={describeItem(item)}
              style={{ left: places[i]!.left, width: places[i]!.width }}
              onClick={() => onSelect(item)}
            >
              <Shape name={verdictShapes[item.verdict]} size={14} />
              <span>{`${item.kind === 'sweep' ? 'S' : 'T'}${item.number}`}</span>
            </button>
          ))}
        </div>
      )}
    </section>
  );
}

/** "Sweep 1, 0:25.0 to 1:10.0, discarded". */
const describeItem = ({ name, fromS, toS, verdict }: VisitItem): string =>
  `${name}, ${formatElapsed(fromS)} to ${toS === Infinity ? 'now' : formatElapsed(toS)}, ${verdictWords[verdict]}`;

function Stretches({
  stretches,
  endS,
  x,
  width,
}: {
  stretches: readonly Stretch[];
  endS: number;
  x: (seconds: number) => number;
  width: number;
}) {
  const boxes = stretches
    .map((stretch) => ({ ...stretch, left: x(stretch.fromS), right: x(Math.min(stretch.toS, endS)) }))
    .filter(({ left, right }) => right > left);
  const last = stretches.findLast(({ fromS }) => fromS <= endS);
  return (
    <svg
      className="visit-stretches"
      width={width}
      height={height}
      role="img"
      aria-label={last ? `Burner: ${stretchStyles[last.kind].name}` : 'What the burner did is not known'}
    >
      {stretchKinds.map((kind) => (
        <path
          key={kind}
          className={`stretch stretch-${kind}`}
          data-filled={stretchStyles[kind].pattern === 'filled'}
          d={boxes
            .filter((one) => one.kind === kind)
            .map(({ left, right }) =>
              stretchPath(stretchStyles[kind].pattern, { x: left, y: 1, width: right - left, height: height - 2 }),
            )
            .join('')}
        />
      ))}
      {boxes
        .filter(({ left, right }) => right - left >= letterWidth)
        .map(({ kind, fromS, left, right }) => (
          <g
            key={fromS}
            className={`stretch-letter stretch-${kind}`}
            data-filled={stretchStyles[kind].pattern === 'filled'}
          >
            <rect x={(left + right) / 2 - 6} y="2" width="12" height={height - 4} />
            <text x={(left + right) / 2} y="13.5" textAnchor="middle">
              {stretchStyles[kind].letter}
            </text>
          </g>
        ))}
    </svg>
  );
}

/** What stands for what on the time line. */
export function BandKey({ stretches }: { stretches: readonly Stretch[] }) {
  const kinds = stretchKinds.filter((kind) => stretches.some((stretch) => stretch.kind === kind));
  return (
    <ul className="plot-key" aria-label="Key of the time line">
      {kinds.map((kind) => (
        <li key={kind}>
          <svg width="22" height="14" aria-hidden="true">
            <path
              className={`stretch stretch-${kind}`}
              data-filled={stretchStyles[kind].pattern === 'filled'}
              d={stretchPath(stretchStyles[kind].pattern, { x: 1, y: 1, width: 20, height: 12 })}
            />
          </svg>
          {stretchStyles[kind].letter}: {stretchStyles[kind].name}
        </li>
      ))}
    </ul>
  );
}

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
