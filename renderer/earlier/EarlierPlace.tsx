import { useEffect } from 'react';
import { useHostQuery } from '../state/host-calls.ts';
import { useWorkbench } from '../state/workbench.ts';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { CaptureTable } from './CaptureTable.tsx';
import { ImportDrop } from './ImportDrop.tsx';
import { ComparisonPanel } from './ComparisonPanel.tsx';
import './earlier.css';

/** The captures of the store, import of files, and the comparison of the current sweep with an earlier one. */
export function EarlierPlace() {
  const { data: captures, fault, refetch } = useHostQuery('captures.list', {});
  const captureId = useWorkbench((state) => state.captureId);
  const earlierId = useWorkbench((state) => state.earlierId);
  // Another page may have recorded meanwhile.
  useEffect(() => void refetch(), [refetch]);
  return (
    <>
      <h1>Earlier captures</h1>
      {fault && <Notice tone="bad" text={fault.message} />}
      {captureId !== undefined && earlierId !== undefined && <ComparisonPanel before={earlierId} after={captureId} />}
      <ImportDrop />
      <Panel name="Captures">{captures && <CaptureTable captures={captures} />}</Panel>
    </>
  );
}
