/** Where a value falls on the paper. */
export interface Scale {
  (value: number): number;
  low: number;
  high: number;
}

/** Straight-line scale from [low, high] to [from, to]. */
export function linearScale(low: number, high: number, from: number, to: number): Scale {
  const slope = (to - from) / (high - low);
  return Object.assign((value: number) => from + (value - low) * slope, { low, high });
}

/**
 * Round numbers for an axis: multiples of 1, 2 or 5 times a power of ten, about `count` of them, inside [low, high].
 * @returns the values and how many decimals they need
 */
export function niceTicks(low: number, high: number, count: number): { values: number[]; decimals: number } {
  const raw = (high - low) / count;
  if (!(raw > 0) || !Number.isFinite(raw)) return { values: [low], decimals: 2 };
  const power = Math.floor(Math.log10(raw));
  const lead = raw / 10 ** power;
  const step = lead < 1.5 ? 1 : lead < 3.5 ? 2 : lead < 7.5 ? 5 : 10;
  const decimals = Math.max(0, -power - (step === 10 ? 1 : 0));
  // Counted in whole steps, so that a tick is never 0.30000000000000004.
  const size = step * 10 ** power;
  const values: number[] = [];
  for (let i = Math.ceil(low / size - 1e-9); i <= high / size + 1e-9; i += 1)
    values.push(Number((i * size).toFixed(decimals)));
  return { values, decimals };
}

/** The smallest and largest finite value; [0, 1] when there is none, widened when they are the same. */
export function extent(...series: Iterable<number>[]): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const values of series)
    for (const value of values) {
      if (!Number.isFinite(value)) continue;
      if (value < low) low = value;
      if (value > high) high = value;
    }
  if (low > high) return [0, 1];
  if (low === high) return [low - 0.5, high + 0.5];
  return [low, high];
}

/** `span` with `share` of its width added at both ends. */
export const padded = ([low, high]: [number, number], share: number): [number, number] => [
  low - (high - low) * share,
  high + (high - low) * share,
];
