import { formatDuration } from '../../../shared/model/format.ts';
import type { Clock } from '../clock.ts';

// Time servers adjust a clock by milliseconds; after more than this it was set, or the computer slept.
const toleratedMs = 2000;

/**
 * Watches whether the wall clock and the monotonic clock advance together. Time stamps come from the monotonic one, so a jump changes
 * none of them; but the wall time of a moment can then no longer be computed from the start, and people must know.
 *
 * @returns  to be called now and then: gives a sentence for the time line when the wall clock has jumped since the last call
 */
export function createClockWatch({ wallMs, monotonicMs }: Clock): () => string | undefined {
  const offsetMs = () => wallMs() - monotonicMs();
  let known = offsetMs();
  return () => {
    const now = offsetMs();
    const jumpMs = now - known;
    if (Math.abs(jumpMs) <= toleratedMs) return undefined;
    known = now;
    const by = formatDuration(Math.abs(jumpMs) / 1000);
    return jumpMs < 0
      ? `the computer's clock was set back by ${by}; elapsed times are not affected`
      : `the computer's clock jumped forward by ${by}: it was set, or the computer slept; elapsed times do not include the jump`;
  };
}
