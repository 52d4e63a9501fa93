import { symbolPath } from './geometry/paths.ts';
import { series, type SeriesName } from './series.ts';

/** What stands for what in a picture. `lines`: series that are drawn as a line as well. */
export function PlotKey({ of, lines = [] }: { of: readonly SeriesName[]; lines?: readonly SeriesName[] }) {
  return (
    <ul className="plot-key" aria-label="Key">
      {of.map((name) => (
        <li key={name}>
          <KeyMark name={name} line={lines.includes(name)} />
          {series[name].name}
        </li>
      ))}
    </ul>
  );
}

function KeyMark({ name, line }: { name: SeriesName; line: boolean }) {
  const look: { symbol?: Parameters<typeof symbolPath>[0]; line?: true; area?: true } = series[name];
  return (
    <svg width="34" height="16" viewBox="0 0 34 16" aria-hidden="true">
      {look.area && <rect className={`mark mark-${name}`} x="3" y="2" width="28" height="12" />}
      {look.line && <path className={`mark mark-${name}`} d="M1 8h32" />}
      {line && <path className={`mark line-${name}`} d="M1 8h32" />}
      {look.symbol && <path className={`mark mark-${name}`} d={symbolPath(look.symbol, [17], [8], [0], 5)} />}
    </svg>
  );
}
