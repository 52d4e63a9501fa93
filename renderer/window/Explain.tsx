import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import { formatGuarded, formatPressure } from '../../shared/model/format.ts';
import { endIntervalLine } from '../../shared/report/end-interval.ts';
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
              {one.sets && <strong>Sets this end: </strong>}
              {one.message}
            </li>
          ))}
        </ul>
        {evidence.length === 0 && <p>There is no evidence for this end.</p>}
      </Panel>
      {end && (
        <Panel name="How certain is it?">
          {end.cause === 'tested-end' ? (
            <Notice
              tone="warning"
              text={`The ${side} end lies beyond ${formatPressure(end.value, unit)}; how far is not known.`}
            />
          ) : (
            <p>{endIntervalLine(end, unit, result.confidence)}</p>
          )}
          <p>
            After uncertainty of meters and fit: {formatGuarded(end.guarded, unit, side === 'low' ? 'up' : 'down')}{' '}
            (guarded end)
          </p>
        </Panel>
      )}
    </>
  );
}
