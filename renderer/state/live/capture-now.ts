import { useEffect, useState } from 'react';
import { localSeconds, useRecording } from './recording.ts';

/** Elapsed time of the current capture, updated ten times a second; undefined before its first reading. */
export function useCaptureNow(): number | undefined {
  const recording = useRecording();
  const [now, setNow] = useState<number>();
  useEffect(() => {
    const tick = () => setNow(recording?.clock.at(localSeconds()));
    tick();
    const timer = setInterval(tick, 100);
    return () => clearInterval(timer);
  }, [recording]);
  return now;
}
