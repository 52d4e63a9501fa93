import { useQuery, useQueryClient } from '@tanstack/react-query';
import { formatMargin, formatPressure } from '../../shared/model/format.ts';
import { decisionLabels, decisionSentences } from '../../shared/report/labels.ts';
import { OverlayPlot } from '../plot/OverlayPlot.tsx';
import { PlotKey } from '../plot/PlotKey.tsx';
import { callHostOrThrow, faultOf } from '../state/host-calls.ts';
import { useWorkbench } from '../state/workbench.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Verdict } from '../ui/visit/Verdict.tsx';
import { Working } from '../ui/Working.tsx';
import { ChangeTable } from './ChangeTable.tsx';

const keyNames = {
  earlier: 'earlier sweep; its window is the upper bar',
  curve: 'current sweep; its window is the lower bar',
};

/** Two visits in one picture, what changed in words and numbers, and whether the old setting still has its margin. */
export function ComparisonPanel({ before, after }: { before: string; after: string }) {
  const client = useQueryClient();
  const change = useWorkbench((state) => state.change);
  const queryKey = ['comparison.run', before, after];
  const { data, error, isFetching } = useQuery({
    queryKey,
    queryFn: ({ signal }) => callHostOrThrow('comparison.run', { before, after }, signal),
    refetchOnMount: 'always',
    structuralSharing: false,
  });
  const fault = faultOf(error);
  const old = data?.result.oldSetPoint;
  return (
    <Panel name="Comparison with an earlier sweep">
      {isFetching && <Working name="Comparing" onCancel={() => void client.cancelQueries({ queryKey })} />}
      {fault && <Notice tone="warning" text={fault.message} />}
      {data && (
        <>
          <div className="overlay">
            <PlotKey of={['earlier', 'curve']} names={keyNames} />
            <OverlayPlot comparison={data} />
          </div>
          <ul className="stack">
            {data.result.summary.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
          {old && (
            <div className="row">
              <Verdict decision={old.decision}>
                {`Earlier setting ${formatPressure(old.value, data.result.pressureUnit)}, signal window only: ${decisionLabels[old.decision]}`}
              </Verdict>
              <span>
                {decisionSentences[old.decision]} Margin {formatMargin(old.marginLow, data.result.pressureUnit)} below,{' '}
                {formatMargin(old.marginHigh, data.result.pressureUnit)} above.
              </span>
            </div>
          )}
          {data.result.warnings.map((warning) => (
            <Notice key={warning.message} tone="warning" text={warning.message} />
          ))}
          <ChangeTable result={data.result} />
        </>
      )}
      <div className="row">
        <Button onClick={() => change({ earlierId: undefined })}>Close comparison</Button>
      </div>
    </Panel>
  );
}
