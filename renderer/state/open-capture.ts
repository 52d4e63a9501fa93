import { useQueryClient } from '@tanstack/react-query';
import { useCallback, useEffect, useRef } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import { callHost, useHostAction, useHostQuery } from './host-calls.ts';
import { workbenchState } from './workbench.ts';
import { useFeed } from './feeds.ts';

/** Opening a capture, and going on with an interrupted one. */
export function useOpenCapture() {
  const continueIt = useHostAction('captures.continue', ['captures.list']);
  const { run } = continueIt;
  const open = useCallback(async (capture: string) => {
    const view = await callHost('captures.get', { capture });
    if (!view.ok) return;
    take(view.value);
    workbenchState().go(view.value.status === 'complete' ? 'window' : 'sweep');
  }, []);
  const goOn = async (capture: string) => {
    if (await run({ capture })) await open(capture);
  };
  return { open, goOn, fault: continueIt.fault };
}

/** A complete capture is only looked at: what stands in the fields is for another visit and stays. */
function take(view: CaptureView): void {
  const bench = workbenchState();
  if (view.status === 'complete') bench.change({ captureId: view.id, earlierId: undefined });
  else bench.takeCapture(view);
}

/**
 * To be used once, at the top: takes up the capture that the host is recording, at the start and whenever none is at hand, and at
 * the start lets go of one that is no longer there. Also keeps the list of captures true, whoever changes it.
 */
export function useTakingUp(): void {
  const client = useQueryClient();
  const { data: captures } = useHostQuery('captures.list', {});
  const isTakenUp = useRef(false);
  useEffect(() => {
    const { captureId, change, takeCapture } = workbenchState();
    if (!captures || (isTakenUp.current && captureId !== undefined)) return;
    isTakenUp.current = true;
    const recording = captures.find((one) => one.status === 'recording');
    if (recording && recording.id !== captureId)
      void callHost('captures.get', { capture: recording.id }).then((view) => view.ok && takeCapture(view.value));
    else if (captureId !== undefined && !captures.some((one) => one.id === captureId)) change({ captureId: undefined });
  }, [captures]);

  const statuses = useFeed('captures.statuses', {});
  useEffect(() => {
    if (statuses) void client.invalidateQueries({ queryKey: ['captures.list'] });
  }, [client, statuses]);
}
