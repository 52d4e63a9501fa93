import { seriesStyle, type SeriesName } from '../../shared/report/charts/chart-style.ts';
import { symbolPath } from './geometry/paths.ts';
import './plot.css';

/** What stands for what in a chart. `lines`: series with a mark that are drawn as a line as well. */
export function PlotKey({
  of,
  lines = [],
  names = {},
}: {
  of: readonly SeriesName[];
  lines?: readonly SeriesName[];
  /** Other words for a series than its usual name. */
  names?: Partial<Record<SeriesName, string>>;
}) {
  return (
    <ul className="plot-key" aria-label="Key">
      {of.map((name) => (
        <li key={name}>
          <KeyMark name={name} withLine={lines.includes(name)} />
          {names[name] ?? seriesStyle(name).name}
        </li>
      ))}
    </ul>
  );
}

function KeyMark({ name, withLine }: { name: SeriesName; withLine: boolean }) {
  const { mark, dash, area } = seriesStyle(name);
  const isLine = withLine || (dash !== undefined && mark === undefined);
  return (
    <svg width="34" height="16" viewBox="0 0 34 16" aria-hidden="true">
      {area && <rect className={`mark area-${name}`} x="3" y="2" width="28" height="12" />}
      {isLine && <path className={`mark line-${name}`} d="M1 8h32" />}
      {mark && <path className={`mark mark-${name}`} d={symbolPath(mark, [17], [8], [0], 5)} />}
    </svg>
  );
}
