import { formatDuration } from '../../../shared/model/format.ts';
import type { Clock } from '../clock.ts';

// Time servers nudge a clock by milliseconds; what is more than this was set, or the computer slept.
const toleratedMs = 2000;

/**
 * Watches whether the wall clock and the monotonic clock go on together. Stamps come from the monotonic one, so a jump changes
 * none of them; but the wall time of a moment can then no longer be reckoned from the start, and people must know.
 *
 * @returns  asked now and then: a sentence for the time line when the two have come apart since the last one
 */
export function createClockWatch({ wallMs, monotonicMs }: Clock): () => string | undefined {
  const apart = () => wallMs() - monotonicMs();
  let known = apart();
  return () => {
    const now = apart();
    const jumpMs = now - known;
    if (Math.abs(jumpMs) <= toleratedMs) return undefined;
    known = now;
    const by = formatDuration(Math.abs(jumpMs) / 1000);
    return jumpMs < 0
      ? `the computer's clock was set back by ${by}; elapsed times are not affected`
      : `the computer's clock went forward by ${by} at once: it was set, or the computer slept; elapsed times do not count that`;
  };
}
