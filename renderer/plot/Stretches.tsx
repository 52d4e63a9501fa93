import { type Stretch, stretchKinds } from '../../shared/model/stretches.ts';
import { stretchStyles } from '../../shared/report/charts/chart-style.ts';
import { stretchPath } from '../../shared/report/charts/stretch-path.ts';
import './visit-band.css';

const height = 18;
/** Narrower than this a stretch has no room for its letter, pixels. */
const letterWidth = 13;

/** What the burner did, as a band of boxes that differ by pattern and letter. `x`: from seconds to pixels. */
export function Stretches({
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
