import { curveAt, sharpClip } from '../../curve/model/curve-model.ts';
import type { CurveFit } from '../../curve/fit-shape.ts';
import { shownBy } from '../../sweep/meter-faults/meter-range.ts';
import { requiredSignal } from '../../sweep/required-signal.ts';

/**
 * Where a curve crosses the required signal on one side, or ends. `slope`: signal per pressure there, 0 where it does not
 * cross.
 */
export interface CurveEnd {
  value: number;
  bounded: boolean;
  flameLost: boolean;
  slope: number;
}

/** Plateau, required signal and ends of a curve; ends undefined where it nowhere reaches what is required. */
export interface CurveEnds {
  plateau: number;
  /** Pressure of the highest level. */
  top: number;
  required: number;
  low: CurveEnd | undefined;
  high: CurveEnd | undefined;
}

/** A steady curve on some pressures, rising, and at any pressure between them. */
export interface SampledCurve {
  pressure: Float64Array;
  signal: Float64Array;
  levelAt: (pressure: number) => number;
}

/** The steady curve of a fit as the meter shows it, any clip sharp, at the given pressures and between them. */
export function sampleCurve({ fit, layout, scale, range }: CurveFit, pressure: Float64Array): SampledCurve {
  const x = sharpClip(fit.parameters, layout);
  const levelsAt = (at: Float64Array) => {
    const level = new Float64Array(at.length);
    curveAt(x, layout, scale, at, level);
    return level.map((value) => shownBy(range, value));
  };
  return { pressure, signal: levelsAt(pressure), levelAt: (p) => levelsAt(Float64Array.of(p))[0]! };
}

/**
 * Plateau, required signal and both ends of a curve: from its highest point outward to where it falls below what is required,
 * the flame was lost, or the tested pressures end.
 *
 * @param below, above  pressures at which the flame was lost on either side; infinite where it never was
 * @param minimum       minimum signal, undefined where none is asked for
 */
export function findCurveEnds(
  { pressure, signal, levelAt }: SampledCurve,
  [below, above]: readonly [number, number],
  dropFraction: number,
  minimum: number | undefined,
): CurveEnds {
  let top = -1;
  for (let i = 0; i < pressure.length; i += 1) {
    if (pressure[i]! < below || pressure[i]! > above) continue;
    if (top < 0 || signal[i]! > signal[top]!) top = i;
  }
  if (top < 0) return { plateau: Number.NaN, top: Number.NaN, required: Number.NaN, low: undefined, high: undefined };
  const plateau = signal[top]!;
  const required = requiredSignal(plateau, dropFraction, minimum).value;
  // A signal that is never above zero has no plateau.
  if (plateau < required || plateau <= 0)
    return { plateau, top: pressure[top]!, required, low: undefined, high: undefined };
  const endOn = (by: 1 | -1, loss: number): CurveEnd => {
    let i = top;
    const isTested = () => i + by >= 0 && i + by < pressure.length;
    while (isTested() && signal[i + by]! >= required && (loss - pressure[i + by]!) * by >= 0) i += by;
    // Lost at the very last pressure, the flame burned at every one that was tested; that end was reached nevertheless.
    if (!isTested() && Number.isFinite(loss)) return { value: loss, bounded: true, flameLost: true, slope: 0 };
    if (!isTested()) return { value: pressure[i]!, bounded: false, flameLost: false, slope: 0 };
    const next = i + by;
    const crossing =
      signal[next]! < required ? crossingBetween(pressure[i]!, pressure[next]!, required, levelAt) : by * Infinity;
    // Whichever comes first on the way outward.
    if ((loss - crossing) * by < 0) return { value: loss, bounded: true, flameLost: true, slope: 0 };
    const h = 1e-3 * (pressure[next]! - pressure[i]!);
    const slope = (levelAt(crossing + h) - levelAt(crossing - h)) / (2 * h);
    return { value: crossing, bounded: true, flameLost: false, slope };
  };
  return { plateau, top: pressure[top]!, required, low: endOn(-1, below), high: endOn(1, above) };
}

/**
 * Pressure at which a level falls to what is required, between one where it is good and one where it is not, to a
 * millionth of their distance.
 * Source: Dowell and Jarratt 1971, BIT 11, 168 (false position with the Illinois rule).
 */
function crossingBetween(good: number, bad: number, required: number, levelAt: (p: number) => number): number {
  let [a, b] = [good, bad];
  let [above, below] = [levelAt(a) - required, levelAt(b) - required];
  let moved: 'a' | 'b' | undefined;
  const tolerance = 1e-6 * Math.abs(bad - good);
  for (let round = 0; round < 60 && Math.abs(b - a) > tolerance && above > 0; round += 1) {
    const p = a + ((b - a) * above) / (above - below);
    const off = levelAt(p) - required;
    const step = Math.abs(p - (off >= 0 ? a : b));
    if (off >= 0) {
      [a, above] = [p, off];
      if (moved === 'a') below /= 2;
      moved = 'a';
    } else {
      [b, below] = [p, off];
      if (moved === 'b') above /= 2;
      moved = 'b';
    }
    if (step < tolerance) return p;
  }
  return a;
}
