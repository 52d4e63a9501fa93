import { stepS } from './hand.ts';
import { type Facts, flickerAt, flickerS, lag } from './simulate.ts';
import { steadySignal } from './families.ts';
import type { WildSweep } from './kinds.ts';
import { truthOf } from './truth.ts';

/** Smallest standard errors of the ends that the readings allow, inH2O. */
export interface EndBounds {
  low?: number;
  high?: number;
}

/**
 * The Cramer-Rao bound of both ends for one sweep: pressure exactly known, family of the curve known, its parameters, dead time and lag not.
 * The noise is that of the definitions: white noise and last digit of the meter, and flicker behind the lag, whose correlation a Kalman
 * filter of its two states takes out (innovations form of the likelihood).
 * Sources: Rao 1945, Bulletin of the Calcutta Mathematical Society 37, 81; Schweppe 1965, IEEE Trans. Information Theory 11, 61.
 */
export function lowerBounds({ facts, path, capture, tested, truth }: WildSweep): EndBounds {
  const x = [...facts.x, facts.deadS, facts.lagS];
  const at = capture.readings.filter(({ role }) => role === 'flame_signal').map(({ elapsedS }) => elapsedS);
  const index = at.map((t) => Math.min(path.length - 1, Math.floor(t / stepS)));
  const pressure = gasLine(path);
  const whiten = innovations(facts, pressure, index);
  const k = x.length;
  const columns = x.map((_, j) => {
    const h = j === facts.x.length ? stepS : 1e-4 * Math.max(0.05, Math.abs(x[j]!));
    const moved = (by: number) =>
      signalOf(
        facts,
        x.map((value, i) => (i === j ? value + by : value)),
        pressure,
        index,
      );
    const [up, down] = [moved(h), moved(-h)];
    return whiten(up.map((value, i) => (value - down[i]!) / (2 * h)));
  });
  const information = columns.map((a) => columns.map((b) => a.reduce((sum, value, i) => sum + value * b[i]!, 0)));
  const endsOf = (y: readonly number[]) => truthOf((p) => steadySignal(facts.family, y, p), tested);
  const bound = (side: 'low' | 'high') => {
    if (truth[side] === undefined) return undefined;
    const gradient = x.map((value, j) => {
      if (j >= facts.x.length) return 0;
      const h = 1e-4 * Math.max(0.05, Math.abs(value));
      const end = (by: number) => endsOf(facts.x.map((each, i) => (i === j ? each + by : each)))[side];
      const [up, down] = [end(h), end(-h)];
      return up === undefined || down === undefined ? Number.NaN : (up - down) / (2 * h);
    });
    const solved = solve(information, gradient);
    const variance = gradient.reduce((sum, g, j) => sum + g * solved[j]!, 0);
    return k > 0 && variance > 0 ? Math.sqrt(variance) : undefined;
  };
  const [low, high] = [bound('low'), bound('high')];
  return { ...(low !== undefined && { low }), ...(high !== undefined && { high }) };
}

/** Pressure at the flame: the gas line fills within a tenth of a second. */
function gasLine(path: readonly number[]): Float64Array {
  const gas = Float64Array.from(path);
  for (let i = 1; i < gas.length; i += 1)
    gas[i] = gas[i - 1]! + (path[i]! - gas[i - 1]!) * (1 - Math.exp(-stepS / 0.1));
  return gas;
}

/** Signal without noise at the readings; `y`: parameters of the curve, dead time, lag. */
function signalOf(facts: Facts, y: readonly number[], pressure: Float64Array, index: readonly number[]): number[] {
  const curve = y.slice(0, -2);
  const [deadS, lagS] = y.slice(-2) as [number, number];
  const level = lag(
    Float64Array.from(pressure, (p) => steadySignal(facts.family, curve, p)),
    { ...facts, deadS, lagS },
  );
  return index.map((i) => level[i]!);
}

/** Takes out of a series at the readings what the noise before tells of it, and divides by the deviation of what is left. */
function innovations(facts: Facts, pressure: Float64Array, index: readonly number[]): (series: number[]) => number[] {
  const keep = Math.exp(-stepS / flickerS);
  const gain = facts.lagS > 0 ? 1 - Math.exp(-stepS / facts.lagS) : 1;
  const dead = Math.round(facts.deadS / stepS);
  const own = facts.white ** 2 + facts.signalDigit ** 2 / 12;
  // States: flicker f and its lagged signal s. f' = keep f + e; s' = s + gain (size f' - s).
  const sizes = pressure.map((p) => flickerAt(facts, p));
  const stepsOf: { gains: [number, number]; deviation: number }[] = [];
  let [pff, pfs, pss] = [1, 0, 0];
  let next = 0;
  const b: number[] = [];
  for (let i = 0; i < pressure.length && next < index.length; i += 1) {
    const size = sizes[Math.max(0, i - dead)]!;
    const [ff, fs] = [keep * keep * pff + 1 - keep * keep, keep * pfs];
    const ss = pss;
    b.push(size);
    [pff, pfs, pss] = [
      ff,
      (1 - gain) * fs + gain * size * ff,
      (1 - gain) ** 2 * ss + 2 * (1 - gain) * gain * size * fs + (gain * size) ** 2 * ff,
    ];
    while (next < index.length && index[next] === i) {
      const variance = pss + own;
      const [kf, ks] = [pfs / variance, pss / variance];
      stepsOf.push({ gains: [kf, ks], deviation: Math.sqrt(variance) });
      [pff, pfs, pss] = [pff - kf * pfs, pfs - kf * pss, pss - ks * pss];
      next += 1;
    }
  }
  return (series) => {
    let [f, s] = [0, 0];
    let at = 0;
    const out: number[] = [];
    for (let i = 0; i < b.length; i += 1) {
      f *= keep;
      s += gain * (b[i]! * f - s);
      while (at < index.length && index[at] === i) {
        const { gains, deviation } = stepsOf[at]!;
        const off = series[at]! - s;
        out.push(off / deviation);
        f += gains[0] * off;
        s += gains[1] * off;
        at += 1;
      }
    }
    return out;
  };
}

/** Solves a symmetric positive system by Gaussian elimination with pivots, on a scale of one for each unknown. */
function solve(matrix: readonly number[][], right: readonly number[]): number[] {
  const n = right.length;
  const scale = matrix.map((row, i) => Math.sqrt(row[i]!) || 1);
  const a = matrix.map((row, i) => [...row.map((value, j) => value / scale[i]! / scale[j]!), right[i]! / scale[i]!]);
  for (let c = 0; c < n; c += 1) {
    const pivot = a.slice(c).reduce((best, row, r) => (Math.abs(row[c]!) > Math.abs(a[best]![c]!) ? c + r : best), c);
    [a[c], a[pivot]] = [a[pivot]!, a[c]!];
    for (let r = 0; r < n; r += 1) {
      if (r === c) continue;
      const factor = a[r]![c]! / a[c]![c]!;
      for (let j = c; j <= n; j += 1) a[r]![j]! -= factor * a[c]![j]!;
    }
  }
  return a.map((row, i) => row[n]! / row[i]! / scale[i]!);
}
