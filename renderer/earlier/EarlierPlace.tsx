import { useEffect } from 'react';
import { useAsked } from '../state/host-calls.ts';
import { useBench } from '../state/workbench.ts';
import { Plate } from '../ui/Panel.tsx';
import { Say } from '../ui/Notice.tsx';
import { CaptureTable } from './CaptureTable.tsx';
import { ImportDrop } from './ImportDrop.tsx';
import { LaidOver } from './ComparisonPanel.tsx';
import './earlier.css';

/** The shelf: captures of the store, files from elsewhere, and an earlier sweep laid under the one at hand. */
export function EarlierPlace() {
  const { data: captures, fault, again } = useAsked('captures.list', {});
  const captureId = useBench((bench) => bench.captureId);
  const earlierId = useBench((bench) => bench.earlierId);
  // Another window may have recorded meanwhile.
  useEffect(() => void again(), [again]);
  return (
    <>
      <h1>Earlier</h1>
      {fault && <Say tone="bad" text={fault.message} />}
      {captureId !== undefined && earlierId !== undefined && <LaidOver before={earlierId} after={captureId} />}
      <ImportDrop />
      <Plate name="Captures">{captures && <CaptureTable captures={captures} />}</Plate>
    </>
  );
}
