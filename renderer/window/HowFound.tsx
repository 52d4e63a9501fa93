import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import { diagnostics } from '../../shared/report/sections/diagnostics.ts';
import './how-found.css';

/** How the result was found, collapsed at first. */
export function HowFound({ analysis }: { analysis: AnalysisDetail }) {
  return (
    <details
      className="how-found"
      // It expands downwards, out of view where warnings fill the column.
      onToggle={({ currentTarget }) => currentTarget.open && currentTarget.scrollIntoView({ block: 'start' })}
    >
      <summary>How this was found</summary>
      <dl>
        {diagnostics(analysis).map(({ label, value, note }) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>
              <strong>{value}</strong>
              <span>{note}</span>
            </dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
