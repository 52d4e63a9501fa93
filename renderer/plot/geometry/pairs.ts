import type { Mark } from '../../../shared/model/capture.ts';
import { firstAfter, type LiveColumn } from '../../state/live/live-buffer.ts';

/** Signal against pressure as it was seen, before any lag is taken off. `direction`: 1 turning in, -1 out, 0 at rest. */
export interface Pairs {
  pressure: Float64Array;
  signal: Float64Array;
  direction: Int8Array;
  length: number;
}

/** A stretch of elapsed time, seconds; `endS` is Infinity while it lasts. */
export interface Stretch {
  startS: number;
  endS: number;
}

/** How far back one looks to say which way the regulator turns, and the least share of the highest pressure that counts. */
const lookBackS = 1.5;
const leastTurn = 0.004;
/** Two pressure readings further apart than this do not tell the pressure between them. */
const longestGapS = 3;

/** The stretches bracketed by marks of one kind, in order. One that was never ended lasts. */
export function stretches(marks: readonly Mark[], kind: 'sweep' | 'trial'): Stretch[] {
  const found: Stretch[] = [];
  let open: number | undefined;
  for (const mark of marks) {
    if (mark.kind === `${kind}-start`) open ??= mark.elapsedS;
    if (mark.kind === `${kind}-end` && open !== undefined) {
      found.push({ startS: open, endS: mark.elapsedS });
      open = undefined;
    }
  }
  if (open !== undefined) found.push({ startS: open, endS: Number.POSITIVE_INFINITY });
  return found;
}

/** Whether a reading at `t` belongs to the picture: inside a sweep when there is any, and never inside a trial. */
export function isShown(t: number, sweeps: readonly Stretch[], trials: readonly Stretch[]): boolean {
  const within = (stretch: Stretch) => t >= stretch.startS && t <= stretch.endS;
  return (sweeps.length === 0 || sweeps.some(within)) && !trials.some(within);
}

/** Each signal reading with the pressure at its time, drawn straight between the two pressure readings around it. */
export function pairUp(
  pressure: LiveColumn,
  signal: LiveColumn,
  sweeps: readonly Stretch[] = [],
  trials: readonly Stretch[] = [],
): Pairs {
  const pairs: Pairs = {
    pressure: new Float64Array(signal.length),
    signal: new Float64Array(signal.length),
    direction: new Int8Array(signal.length),
    length: 0,
  };
  let highest = 0;
  for (let i = 0; i < pressure.length; i++) highest = Math.max(highest, Math.abs(pressure.value[i]!) || 0);
  for (let i = 0; i < signal.length; i++) {
    const t = signal.elapsedS[i]!;
    const s = signal.value[i]!;
    if (Number.isNaN(s) || !isShown(t, sweeps, trials)) continue;
    const p = valueAt(pressure, t);
    if (p === undefined) continue;
    const before = valueAt(pressure, t - lookBackS);
    const turned = before === undefined ? 0 : p - before;
    pairs.pressure[pairs.length] = p;
    pairs.signal[pairs.length] = s;
    pairs.direction[pairs.length] = Math.abs(turned) <= leastTurn * highest ? 0 : Math.sign(turned);
    pairs.length += 1;
  }
  return pairs;
}

/** Straight between the readings around `t`; undefined before the first, after the last, in a gap and beside a flag. */
export function valueAt(column: LiveColumn, t: number): number | undefined {
  const after = firstAfter(column, t);
  if (after === 0) return undefined;
  const before = after - 1;
  const t0 = column.elapsedS[before]!;
  const v0 = column.value[before]!;
  if (t0 === t) return Number.isNaN(v0) ? undefined : v0;
  if (after === column.length) return undefined;
  const t1 = column.elapsedS[after]!;
  const v = v0 + ((column.value[after]! - v0) * (t - t0)) / (t1 - t0);
  return t1 - t0 > longestGapS || Number.isNaN(v) ? undefined : v;
}
