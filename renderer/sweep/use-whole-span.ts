import { useEffect, useState } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import { wholeSpan } from '../plot/geometry/time-view.ts';
import { useRecording } from '../state/live/recording.ts';

/** How often it is asked whether the recording has outgrown its axis, ms. */
const everyMs = 500;

/** Seconds that show the current recording whole; renders anew only when it has outgrown them. */
export function useWholeSpan(capture: CaptureView | undefined): number {
  const recording = useRecording();
  const [spanS, setSpanS] = useState(0);
  useEffect(() => {
    const tick = () => setSpanS(wholeSpan(recording?.buffer.endS ?? 0));
    tick();
    const timer = setInterval(tick, everyMs);
    return () => clearInterval(timer);
  }, [recording]);
  return Math.max(spanS, wholeSpan(capture?.durationS ?? 0));
}
