export interface RequiredSignal {
  value: number;
  basis: 'minimum-signal' | 'drop-fraction';
}

/** max(minimumSignal, (1 - signalDropFraction) x plateau). */
export function requiredSignal(plateau: number, dropFraction: number, minimum: number | undefined): RequiredSignal {
  const byDrop = (1 - dropFraction) * plateau;
  return minimum !== undefined && minimum >= byDrop
    ? { value: minimum, basis: 'minimum-signal' }
    : { value: byDrop, basis: 'drop-fraction' };
}

export interface CurveEnds {
  plateau: number;
  required: number;
  low: { value: number; bounded: boolean; flameLost: boolean; slope: number } | undefined;
  high: { value: number; bounded: boolean; flameLost: boolean; slope: number } | undefined;
}

/** A steady curve on a few pressures, and between them. */
export interface SampledCurve {
  pressure: Float64Array;
  signal: Float64Array;
  levelAt: (pressure: number) => number;
}

/** Plateau, required signal and both ends of a drawn curve, between the pressures where the flame was lost. */
export function findCurveEnds(
  { pressure, signal, levelAt }: SampledCurve,
  [below, above]: [number, number],
  dropFraction: number,
  minimum: number | undefined,
): CurveEnds {
  let top = -1;
  for (let i = 0; i < pressure.length; i += 1) {
    if (pressure[i]! < below || pressure[i]! > above) continue;
    if (top < 0 || signal[i]! > signal[top]!) top = i;
  }
  if (top < 0) return { plateau: Number.NaN, required: Number.NaN, low: undefined, high: undefined };
  const plateau = signal[top]!;
  const required = requiredSignal(plateau, dropFraction, minimum).value;
  // A signal that is never above zero has no plateau.
  if (plateau < required || plateau <= 0) return { plateau, required, low: undefined, high: undefined };
  const walk = (by: 1 | -1, limit: number): CurveEnds['low'] => {
    let i = top;
    const inTest = () => i + by >= 0 && i + by < pressure.length;
    while (inTest() && signal[i + by]! >= required && (limit - pressure[i + by]!) * by >= 0) i += by;
    if (!inTest()) return { value: pressure[i]!, bounded: false, flameLost: false, slope: 0 };
    const next = i + by;
    const crossing =
      signal[next]! < required ? crossingBetween(pressure[i]!, pressure[next]!, required, levelAt) : by * Infinity;
    // Whichever comes first on the way out.
    if ((limit - crossing) * by < 0) return { value: limit, bounded: true, flameLost: true, slope: 0 };
    const near = 1e-3 * (pressure[next]! - pressure[i]!);
    const slope = (levelAt(crossing + near) - levelAt(crossing - near)) / (2 * near);
    return { value: crossing, bounded: true, flameLost: false, slope };
  };
  return { plateau, required, low: walk(-1, below), high: walk(1, above) };
}

/**
 * Pressure at which a level falls to what is required, between one where it is good and one where it is not, to a
 * millionth of their distance.
 * Source: Dowell and Jarratt 1971, BIT 11, 168 (false position with the Illinois rule).
 */
function crossingBetween(good: number, bad: number, required: number, levelAt: (p: number) => number): number {
  let [a, b] = [good, bad];
  let [above, below] = [levelAt(a) - required, levelAt(b) - required];
  let kept: 'a' | 'b' | undefined;
  const near = 1e-6 * Math.abs(bad - good);
  for (let round = 0; round < 60 && Math.abs(b - a) > near && above > 0; round += 1) {
    const p = a + ((b - a) * above) / (above - below);
    const off = levelAt(p) - required;
    const moved = Math.abs(p - (off >= 0 ? a : b));
    if (off >= 0) {
      [a, above] = [p, off];
      if (kept === 'b') below /= 2;
      kept = 'b';
    } else {
      [b, below] = [p, off];
      if (kept === 'a') above /= 2;
      kept = 'a';
    }
    if (moved < near) return p;
  }
  return a;
}
