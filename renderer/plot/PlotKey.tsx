import { seriesStyle, type SeriesName } from '../../shared/report/charts/chart-style.ts';
import type { Point } from '../../shared/light-off/hull.ts';
import { hatchPath, outlinePath } from '../../shared/report/charts/lighting/hatch.ts';
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

const keyBox: readonly Point[] = [
  [3, 2],
  [31, 2],
  [31, 14],
  [3, 14],
];

function KeyMark({ name, withLine }: { name: SeriesName; withLine: boolean }) {
  const { mark, dash, area, hatched } = seriesStyle(name);
  const isLine = withLine || (dash !== undefined && mark === undefined);
  return (
    <svg width="34" height="16" viewBox="0 0 34 16" aria-hidden="true">
      {hatched && <path className={`mark hatch-${name}`} d={hatchPath(keyBox) + outlinePath(keyBox)} />}
      {area && !hatched && <rect className={`mark area-${name}`} x="3" y="2" width="28" height="12" />}
      {isLine && <path className={`mark line-${name}`} d="M1 8h32" />}
      {mark && <path className={`mark mark-${name}`} d={symbolPath(mark, [17], [8], [0], 5)} />}
    </svg>
  );
}
