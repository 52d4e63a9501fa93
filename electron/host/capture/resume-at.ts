import { formatDuration } from '../../../shared/model/format.ts';

// Nobody resumes a visit later than this; the clock was wrong, before or now.
const longestPauseS = 30 * 86_400;
// What a pause counts as whose length is not known: long enough to be a gap to everyone who reads the capture.
const unknownPauseS = 60;

/**
 * The elapsed time at which an interrupted capture goes on, seconds, and the text of its mark. Another run of the program shares only the
 * wall clock with this one; if that was set back, the capture goes on at its end, and if it jumped, soon after.
 * @param wallMs  now, epoch milliseconds
 */
export function resumeAt(
  { started_at, duration_s }: { started_at: string | null; duration_s: number },
  wallMs: number,
): { nowS: number; text: string } {
  const sinceStartS = started_at === null ? 0 : (wallMs - Date.parse(started_at)) / 1000;
  const pauseS = sinceStartS - duration_s;
  if (Number.isNaN(pauseS) || pauseS > longestPauseS) {
    const told = Number.isNaN(pauseS) ? 'no usable time' : `a pause of ${formatDuration(pauseS)}`;
    const text = `recording resumed after an unknown time, counted as ${unknownPauseS} s: the computer's clock tells ${told}, so it was wrong, before or now`;
    return { nowS: duration_s + unknownPauseS, text };
  }
  const nowS = Math.max(duration_s, sinceStartS);
  return { nowS, text: `recording resumed after ${(nowS - duration_s).toFixed(1)} s` };
}
