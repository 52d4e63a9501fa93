import type { Pairs } from './pairs.ts';

/** Median pressure and signal of each bin in the order of pressure; NaN where a bin has too few points. */
export interface BinnedMedians {
  pressure: number[];
  signal: number[];
}

/** The median of a single point is that point, so a line through it would only repeat the scatter. */
const minPerBin = 2;
/** Of a bin in which a hand lingers, the newest points tell enough. */
const maxPerBin = 500;

/**
 * Medians of pressure and signal in `bins` equal ranges of pressure, for each direction of turning in each stretch with a flame, as pairs
 * are added. They only guide the eye; nothing is computed from them.
 */
export function createBinnedMedians(bins = 60): {
  /** One line for each stretch with a flame in which the regulator was turned in `direction`. */
  update(pairs: Pairs, span: readonly [number, number]): { direction: number; medians: BinnedMedians }[];
} {
  let lines = new Map<string, Line>();
  let seen = 0;
  let known = { generation: -1, from: 0, to: 0 };

  return {
    update(pairs, [from, to]) {
      if (pairs.generation !== known.generation || from !== known.from || to !== known.to) {
        known = { generation: pairs.generation, from, to };
        lines = new Map();
        seen = 0;
      }
      const width = (to - from) / bins;
      for (; seen < pairs.pressure.length; seen += 1) {
        const direction = pairs.direction[seen]!;
        const stretch = pairs.stretch[seen]!;
        if (direction === 0 || stretch < 0) continue;
        const key = `${stretch} ${direction}`;
        let line = lines.get(key);
        if (!line) lines.set(key, (line = newLine(direction, bins)));
        const bin = line.bins[Math.min(bins - 1, Math.floor((pairs.pressure[seen]! - from) / width))];
        if (bin) add(bin, pairs.pressure[seen]!, pairs.signal[seen]!);
      }
      return Array.from(lines.values(), (line) => ({ direction: line.direction, medians: mediansOf(line) }));
    },
  };
}

interface Bin {
  pressure: number[];
  signal: number[];
  /** How many were ever added. */
  count: number;
  isStale: boolean;
}
interface Line {
  direction: number;
  bins: Bin[];
  medians: BinnedMedians;
}

const newLine = (direction: number, bins: number): Line => ({
  direction,
  bins: Array.from({ length: bins }, () => ({ pressure: [], signal: [], count: 0, isStale: false })),
  medians: { pressure: Array<number>(bins).fill(Number.NaN), signal: Array<number>(bins).fill(Number.NaN) },
});

function add(bin: Bin, pressure: number, signal: number): void {
  const at = bin.count % maxPerBin;
  bin.pressure[at] = pressure;
  bin.signal[at] = signal;
  bin.count += 1;
  bin.isStale = true;
}

function mediansOf({ bins, medians }: Line): BinnedMedians {
  for (const [i, bin] of bins.entries()) {
    if (!bin.isStale || bin.count < minPerBin) continue;
    bin.isStale = false;
    medians.pressure[i] = median(bin.pressure);
    medians.signal[i] = median(bin.signal);
  }
  return medians;
}

function median(values: number[]): number {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
