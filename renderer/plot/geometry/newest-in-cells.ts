import type { Scales } from '../scales.ts';
import { maxPoints } from '../../../shared/model/thin-line.ts';
import type { Pairs } from './pairs.ts';

/**
 * Which pairs to draw as they are added: the newest in each cell of `cell` pixels, and of those the newest `limit`. Those left out lie
 * under those drawn.
 */
export function createNewestInCells(
  cell: number,
  limit: number = maxPoints,
): {
  /** Indices of pairs in the order of time. */
  update(pairs: Pairs, scales: Pick<Scales, 'x' | 'y'>): number[];
} {
  // A map keeps the order in which its keys were set: setting one anew puts it last.
  let newest = new Map<number, number>();
  let seen = 0;
  let known: { generation: number; scales: object } | undefined;

  return {
    update(pairs, scales) {
      if (pairs.generation !== known?.generation || scales !== known.scales) {
        known = { generation: pairs.generation, scales };
        newest = new Map();
        seen = 0;
      }
      for (; seen < pairs.pressure.length; seen += 1) {
        const column = Math.round(scales.x(pairs.pressure[seen]!) / cell);
        const row = Math.round(scales.y(pairs.signal[seen]!) / cell);
        const key = column * 65_536 + row;
        if (!Number.isFinite(key)) continue;
        newest.delete(key);
        newest.set(key, seen);
      }
      const drawn = [...newest.values()];
      return drawn.length > limit ? drawn.slice(-limit) : drawn;
    },
  };
}
