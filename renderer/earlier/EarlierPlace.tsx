import { useEffect } from 'react';
import { useHostQuery } from '../state/host-calls.ts';
import { useWorkbench } from '../state/workbench.ts';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { CaptureTable } from './CaptureTable.tsx';
import { ImportDrop } from './ImportDrop.tsx';
import { ComparisonPanel } from './ComparisonPanel.tsx';
import './earlier.css';

/** The shelf: captures of the store, files from elsewhere, and an earlier sweep laid under the one at hand. */
export function EarlierPlace() {
  const { data: captures, fault, again } = useHostQuery('captures.list', {});
  const captureId = useWorkbench((bench) => bench.captureId);
  const earlierId = useWorkbench((bench) => bench.earlierId);
  // Another window may have recorded meanwhile.
  useEffect(() => void again(), [again]);
  return (
    <>
      <h1>Earlier</h1>
      {fault && <Notice tone="bad" text={fault.message} />}
      {captureId !== undefined && earlierId !== undefined && <ComparisonPanel before={earlierId} after={captureId} />}
      <ImportDrop />
      <Panel name="Captures">{captures && <CaptureTable captures={captures} />}</Panel>
    </>
  );
}
