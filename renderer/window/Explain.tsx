import type { AnalysisDetail } from '../../shared/model/analysis-result.ts';
import { formatConfidence, formatPressure, formatPressureSpan } from '../../shared/model/format.ts';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';

/** The evidence on one side, with what sets the end first, and the uncertainty of the end. */
export function Explain({ analysis, side }: { analysis: AnalysisDetail; side: 'low' | 'high' }) {
  const { result } = analysis;
  const unit = result.pressureUnit;
  const end = result.window[side];
  const evidence = analysis.evidence.filter((one) => one.side === side).sort((a, b) => Number(b.sets) - Number(a.sets));
  return (
    <>
      <Panel name={`Why is the ${side} end here?`}>
        <ul className="evidence">
          {evidence.map((one) => (
            <li key={`${one.cause} ${one.value}`} data-sets={one.sets}>
              {one.sets && <strong>This sets it: </strong>}
              {one.message}
            </li>
          ))}
        </ul>
        {evidence.length === 0 && <p>No evidence speaks of this side.</p>}
      </Panel>
      {end && (
        <Panel name="How sure is it?">
          {end.cause === 'tested-end' ? (
            <Notice
              tone="warning"
              text={`The ${side} end lies beyond ${formatPressure(end.value, unit)}; how far is not known.`}
            />
          ) : (
            <p>
              With {formatConfidence(result.confidence)} confidence it lies from {formatPressureSpan(end.ci, unit)}.
            </p>
          )}
          <p>
            Meters and fit taken off, the window is trusted {side === 'low' ? 'from' : 'up to'}{' '}
            {formatPressure(end.guarded, unit)}.
          </p>
        </Panel>
      )}
    </>
  );
}
