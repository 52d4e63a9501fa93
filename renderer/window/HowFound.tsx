import type { AnalysisDetail } from '../../shared/model/analysis-result.ts';
import { howFound } from '../../shared/report/how-found.ts';
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
        {howFound(analysis).map(({ label, value, note }) => (
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
