import type { Mark } from '../../shared/model/capture.ts';
import { formatElapsed } from '../../shared/model/format.ts';
import type { TimeSpan } from '../../shared/model/sweeps.ts';

/** How often and when the flame was lost with gas on within a stretch of the visit, by its marks. */
export function lossWords(marks: readonly Mark[], { fromS, toS }: TimeSpan): string {
  const times = marks
    .filter(({ kind, elapsedS }) => kind === 'flame-lost' && elapsedS >= fromS && elapsedS <= toS)
    .map(({ elapsedS }) => formatElapsed(elapsedS));
  if (times.length === 0) return 'never';
  return `${times.length === 1 ? 'once' : `${times.length} times`}, with gas on: at ${times.join(', ')}`;
}
