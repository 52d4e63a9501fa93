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
 * The Cramer-Rao bound of both ends for one sweep: family of the curve known, its parameters, dead time and lag not. The noise is that of the
 * definitions: white noise and last digit of the signal meter, flicker and the manometer's error behind the lag, whose correlation a
 * Kalman filter takes out (innovations form of the likelihood).
 * Sources: Rao 1945, Bulletin of the Calcutta Mathematical Society 37, 81; Schweppe 1965, IEEE Trans. Information Theory 11, 61.
 */
export function lowerBounds({ facts, path, capture, tested, truth }: WildSweep): EndBounds {
  const x = [...facts.x, facts.deadS, facts.lagS];
  const at = capture.readings.filter(({ role }) => role === 'flame_signal').map(({ elapsedS }) => elapsedS);
  const index = at.map((t) => Math.min(path.length - 1, Math.floor(t / stepS)));
  const pressure = gasLine(path);
  const whiten = innovations(facts, pressure, index);
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
    return variance > 0 ? Math.sqrt(variance) : undefined;
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

/** Covariance of three states, row by row. */
type Matrix = number[][];

/**
 * Takes out of a series at the readings what the noise before tells of it, and divides by the deviation of what is left. States of the Kalman
 * filter: flicker, error of the manometer (as well known as its readings come often), and the signal behind the lag that both move.
 */
function innovations(facts: Facts, pressure: Float64Array, index: readonly number[]): (series: number[]) => number[] {
  const keep = [Math.exp(-stepS / flickerS), Math.exp(-2 * stepS * facts.pressureHz)] as const;
  const gain = facts.lagS > 0 ? 1 - Math.exp(-stepS / facts.lagS) : 1;
  const dead = Math.round(facts.deadS / stepS);
  const own = facts.white ** 2 + facts.signalDigit ** 2 / 12;
  const pressureU = Math.hypot(facts.manometerNoise, facts.pressureDigit / Math.sqrt(12));
  const steady = (p: number) => steadySignal(facts.family, facts.x, p);
  const sizes = pressure.map((p) => flickerAt(facts, p));
  const slopes = pressure.map((p) => (pressureU * (steady(p + 1e-4) - steady(p - 1e-4))) / 2e-4);
  const last = index.at(-1)!;
  /** s' = s + gain (size f' + slope e' - s): what moves the signal in a step. */
  const moveAt = (i: number) => {
    const j = Math.max(0, i - dead);
    return [
      [keep[0], 0, 0],
      [0, keep[1], 0],
      [gain * sizes[j]! * keep[0], gain * slopes[j]! * keep[1], 1 - gain],
    ];
  };
  const gains: { by: number[]; deviation: number }[] = [];
  let covariance: Matrix = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 0],
  ];
  for (let i = 0, next = 0; i <= last; i += 1) {
    const move = moveAt(i);
    const j = Math.max(0, i - dead);
    const fresh = [
      [Math.sqrt(1 - keep[0] ** 2), 0],
      [0, Math.sqrt(1 - keep[1] ** 2)],
    ];
    const enters: Matrix = [
      fresh[0]!,
      fresh[1]!,
      [gain * sizes[j]! * fresh[0]![0]!, gain * slopes[j]! * fresh[1]![1]!],
    ];
    const [moved, added] = [product(product(move, covariance), transposed(move)), product(enters, transposed(enters))];
    covariance = moved.map((row, r) => row.map((value, c) => value + added[r]![c]!));
    for (; next < index.length && index[next] === i; next += 1) {
      const variance = covariance[2]![2]! + own;
      const by = covariance.map((row) => row[2]! / variance);
      gains.push({ by, deviation: Math.sqrt(variance) });
      const seen = covariance[2]!;
      covariance = covariance.map((row, r) => row.map((value, c) => value - by[r]! * seen[c]!));
    }
  }
  return (series) => {
    let state = [0, 0, 0];
    const out: number[] = [];
    for (let i = 0, next = 0; i <= last; i += 1) {
      state = moveAt(i).map((row) => row.reduce((sum, value, c) => sum + value * state[c]!, 0));
      for (; next < index.length && index[next] === i; next += 1) {
        const { by, deviation } = gains[next]!;
        const off = series[next]! - state[2]!;
        out.push(off / deviation);
        state = state.map((value, r) => value + by[r]! * off);
      }
    }
    return out;
  };
}

const transposed = (a: Matrix): Matrix => a[0]!.map((_, c) => a.map((row) => row[c]!));
const product = (a: Matrix, b: Matrix): Matrix =>
  a.map((row) => b[0]!.map((_, c) => row.reduce((sum, value, k) => sum + value * b[k]![c]!, 0)));

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
