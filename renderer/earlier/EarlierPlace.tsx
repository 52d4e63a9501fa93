import { useWorkbench } from '../state/workbench.ts';
import { Panel } from '../ui/Panel.tsx';
import { CaptureTable } from './CaptureTable.tsx';
import { ImportDrop } from './ImportDrop.tsx';
import { ComparisonPanel } from './ComparisonPanel.tsx';
import './earlier.css';

/** The captures of the store, import of files, and the comparison of the current sweep with an earlier one. */
export function EarlierPlace() {
  const captureId = useWorkbench((state) => state.captureId);
  const earlierId = useWorkbench((state) => state.earlierId);
  return (
    <>
      <h1>Earlier captures</h1>
      {captureId !== undefined && earlierId !== undefined && <ComparisonPanel before={earlierId} after={captureId} />}
      <ImportDrop />
      <Panel name="Captures">
        <CaptureTable />
      </Panel>
    </>
  );
}
