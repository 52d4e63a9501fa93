import { useEffect, useSyncExternalStore } from 'react';
import { createCaptureClock, type CaptureClock } from './capture-clock.ts';
import { subscribe } from '../feeds.ts';
import { createLiveBuffer, type LiveBuffer } from './live-buffer.ts';

/** The stored readings of the current capture, with the capture's clock. Outside React. */
export interface Recording {
  captureId: string;
  buffer: LiveBuffer;
  clock: CaptureClock;
}

let recording: Recording | undefined;
let stop: (() => void) | undefined;
const listeners = new Set<() => void>();

/** Seconds of a local clock that never jumps. */
export const localSeconds = (): number => performance.now() / 1000;

/** Follows the stored readings of `captureId`; after a lost connection it resumes after the last one in the buffer. */
function follow(captureId: string | undefined): void {
  if (recording?.captureId === captureId) return;
  stop?.();
  stop = undefined;
  recording = captureId ? { captureId, buffer: createLiveBuffer(), clock: createCaptureClock() } : undefined;
  const followed = recording;
  if (followed)
    stop = subscribe(
      'readings.live',
      () => ({ capture: followed.captureId, after: followed.buffer.upTo }),
      (batch) => {
        followed.buffer.append(batch);
        followed.clock.addBatch(batch.elapsedS.at(-1) ?? 0, localSeconds());
      },
      () => {},
    );
  listeners.forEach((listener) => listener());
}

/** To be used once, at the top: follows the readings of the current capture. */
export function useReadingsFeed(captureId: string | undefined): void {
  useEffect(() => follow(captureId), [captureId]);
}

/** The current recording. A new object only for another capture; its buffer is to be read on animation frames. */
export function useRecording(): Recording | undefined {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => recording,
  );
}
