import type { Random } from '../../../shared/numerics/random.ts';
import type { Draft } from './draft/draft.ts';
import { type Simulated, timeOf } from './simulated.ts';
import { labelsOf, segmentsOf } from './truth/truth.ts';
import type { MeterFault } from './types.ts';

/** Each planned fault at a random moment of the states it belongs to; none where the visit never came to them. */
export function placeFaults({ faults }: Draft, simulated: Simulated, random: Random): MeterFault[] {
  if (faults.length === 0) return [];
  const segments = segmentsOf(labelsOf(simulated).labels);
  const endS = timeOf(simulated.n);
  return faults.flatMap(({ meter, kind, seconds, during, by }): MeterFault[] => {
    const places = during === 'start' ? [{ from_s: 0, to_s: 1e-9 }] : segments.filter(during);
    const total = places.reduce((sum, { from_s, to_s }) => sum + to_s - from_s, 0);
    let left = total * random.uniform();
    for (const { from_s, to_s } of places) {
      if (left < to_s - from_s) {
        const start = from_s + left;
        return [{ meter, kind, from_s: start, to_s: Math.min(endS, start + seconds), ...(by !== undefined && { by }) }];
      }
      left -= to_s - from_s;
    }
    return [];
  });
}
