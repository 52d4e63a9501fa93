import { useQueryClient } from '@tanstack/react-query';
import { useCallback, useEffect, useRef } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import { callHost, useHostAction } from './host-calls.ts';
import { workbenchState } from './workbench.ts';
import { useFeed } from './feeds.ts';

/** Opens a capture; continues the recording of an interrupted one. */
export function useOpenCapture() {
  const continued = useHostAction('captures.continue');
  const open = useCallback(async (capture: string) => {
    const { place } = workbenchState();
    const view = await callHost('captures.get', { capture });
    if (!view.ok) return;
    makeCurrent(view.value);
    // Whoever has gone to another step meanwhile stays there.
    if (workbenchState().place === place) workbenchState().go(view.value.status === 'complete' ? 'window' : 'sweep');
  }, []);
  const continueRecording = async (capture: string) => {
    if (await continued.run({ capture })) await open(capture);
  };
  return { open, continueRecording, fault: continued.fault };
}

/** A complete capture is only viewed: the form keeps what was typed for another visit. */
function makeCurrent(view: CaptureView): void {
  const { change, loadCapture } = workbenchState();
  if (view.status === 'complete') change({ captureId: view.id, earlierId: undefined });
  else loadCapture(view);
}

/**
 * To be used once, at the top. Makes the capture that the host is recording the current one, at the start and whenever there is
 * none; at the start it drops a current capture that no longer exists. Also refreshes the list of captures when anyone changes it.
 */
export function useAttachToRecording(): void {
  const client = useQueryClient();
  const changes = useFeed('captures.changes', {});
  const isAttached = useRef(false);
  useEffect(() => {
    const { captureId, change, loadCapture } = workbenchState();
    if (!changes || (isAttached.current && captureId !== undefined)) return;
    isAttached.current = true;
    const recording = changes.unfinished.find((one) => one.status === 'recording');
    if (recording && recording.id !== captureId)
      void callHost('captures.get', { capture: recording.id }).then((view) => view.ok && loadCapture(view.value));
    else if (captureId !== undefined)
      void callHost('captures.get', { capture: captureId }).then(
        (view) => !view.ok && view.fault.code === 'capture-missing' && change({ captureId: undefined }),
      );
  }, [changes]);

  useEffect(() => {
    if (changes) void client.invalidateQueries({ queryKey: ['captures.page'] });
  }, [client, changes]);
}
