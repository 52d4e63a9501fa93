import type { Reading } from '../../../shared/model/reading.ts';
import { manometerNoise, stepS, type SweepFacts } from '../sweep/simulate.ts';

/** Pressure at the flame on the steps of the simulation, as far as a manometer of known lag and noise shows it. */
export interface KnownPressure {
  pressure: Float64Array;
  /** 0 inside a gap of the manometer, and before its first and after its last reading. */
  known: Uint8Array;
}

/** Seconds on each side over which the manometer's noise is averaged. */
const averagingS = 0.25;
/** Seconds between two readings beyond which the motion of the regulator is unknown. */
const longestGapS = 1.5;

/**
 * The manometer's readings on an even grid: a local straight line by weighted least squares, and the readings themselves
 * where they leave it by more than their noise (a step of the regulator), moved back by the known lag.
 */
export function knownPressure(readings: Reading[], facts: SweepFacts, durationS: number): KnownPressure {
  const measured = readings.filter((reading) => reading.role === 'pilot_pressure');
  const n = Math.floor(durationS / stepS);
  const pressure = new Float64Array(n);
  const known = new Uint8Array(n);
  const noise = Math.hypot(manometerNoise, facts.digits.pressure / Math.sqrt(12));
  let first = 0;
  let next = 1;
  for (let i = 0; i < n; i += 1) {
    const t = i * stepS + facts.manometerLagS;
    while (first < measured.length && measured[first]!.elapsedS < t - averagingS) first += 1;
    while (next < measured.length - 1 && measured[next]!.elapsedS < t) next += 1;
    const [before, after] = [measured[next - 1]!, measured[next]!];
    const wide = after.elapsedS - before.elapsedS;
    known[i] = Number(wide <= longestGapS && t > before.elapsedS - 0.5 && t < after.elapsedS + 0.5);
    const part = wide > 0 ? Math.min(1, Math.max(0, (t - before.elapsedS) / wide)) : 0;
    const between = before.value + part * (after.value - before.value);
    const line = localLine(measured, first, t) ?? between;
    const off = between - line;
    pressure[i] = line + off * Math.min(1, Math.max(0, Math.abs(off) / (3 * noise) - 1));
  }
  return { pressure, known };
}

/** Value at `t` of the straight line through the readings around it; undefined with fewer than three of them. */
function localLine(measured: Reading[], first: number, t: number): number | undefined {
  let [w0, w1, w2, y0, y1, count] = [0, 0, 0, 0, 0, 0];
  for (let k = first; k < measured.length && measured[k]!.elapsedS <= t + averagingS; k += 1) {
    const x = measured[k]!.elapsedS - t;
    const weight = 1.001 - Math.abs(x) / averagingS;
    w0 += weight;
    w1 += weight * x;
    w2 += weight * x * x;
    y0 += weight * measured[k]!.value;
    y1 += weight * x * measured[k]!.value;
    count += 1;
  }
  const determinant = w0 * w2 - w1 * w1;
  return count >= 3 && determinant > 0 ? (w2 * y0 - w1 * y1) / determinant : undefined;
}
