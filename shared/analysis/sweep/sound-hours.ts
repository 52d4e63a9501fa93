import type { Capture } from '../../model/capture.ts';
import { extent, sorted } from '../../numerics/descriptive.ts';
import { finiteTimes } from './finite-times.ts';

/** Longest visit, seconds: two shifts. What spans more has stood still in between, or its clock jumped. */
const longestVisitS = 16 * 3600;
/** Readings this far apart, seconds, belong to different parts of such a capture. */
const partingS = 3 * 3600;

/** The part of a capture that is analyzed, and how many readings lie in its other parts. */
export interface SoundHours {
  capture: Capture;
  leftOut: number;
}

/**
 * Keeps of a capture that spans more than any visit (a clock that jumped by years, a pause of weeks) the part with the most readings, the
 * first of several: what follows goes through the time step by step, and nothing connects the parts. A capture without so long a
 * pause is kept whole.
 */
export function soundHours(capture: Capture): SoundHours {
  const unordered = finiteTimes(capture.readings);
  const [earliestS, latestS] = extent(unordered);
  if (!(latestS - earliestS > longestVisitS)) return { capture, leftOut: 0 };
  const times = sorted(unordered);
  const n = times.length;
  let best = { from: 0, to: 0 };
  for (let from = 0; from < n;) {
    let to = from + 1;
    while (to < n && times[to]! - times[to - 1]! <= partingS) to += 1;
    if (to - from > best.to - best.from) best = { from, to };
    from = to;
  }
  const [firstS, lastS] = [times[best.from]!, times[best.to - 1]!];
  const readings = capture.readings.filter(({ elapsedS }) => elapsedS >= firstS && elapsedS <= lastS);
  return { capture: { ...capture, readings }, leftOut: capture.readings.length - readings.length };
}
