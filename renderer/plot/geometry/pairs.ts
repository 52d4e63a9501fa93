import type { Mark } from '../../../shared/model/capture.ts';
import { type Stretch, stretchAt } from '../../../shared/model/stretches.ts';
import { type SweepSpan, sweepsOf, type TimeSpan, trialSpansOf } from '../../../shared/model/sweeps.ts';
import { firstAfter, type LiveColumn } from '../../state/live/live-buffer.ts';

/**
 * Signal against pressure as recorded, before any lag correction. `direction`: 1 turning in, -1 turning out, 0 at rest. `stretch`: index of
 * the stretch with a flame that it belongs to, -1 where no flame burns or nobody knows.
 */
export interface Pairs {
  pressure: Float64Array;
  signal: Float64Array;
  direction: Int8Array;
  stretch: Int32Array;
  length: number;
}

/** The direction of turning is that of the pressure over this time; changes below this share of the highest pressure are noise. */
const lookBackS = 1.5;
const minTurnShare = 0.004;
/** Pressure is not interpolated between readings further apart than this. */
const maxGapS = 3;

/** Whether a reading at `t` is plotted: inside a sweep that counts when any was made, and never inside a trial. */
export function isPlotted(t: number, sweeps: readonly SweepSpan[], trials: readonly TimeSpan[]): boolean {
  const contains = (span: TimeSpan) => t >= span.fromS && t <= span.toS;
  return (sweeps.length === 0 || sweeps.some((sweep) => !sweep.isVoid && contains(sweep))) && !trials.some(contains);
}

/** Each signal reading with the pressure at its time, interpolated linearly between the pressure readings around it. */
export function pairUp(
  pressure: LiveColumn,
  signal: LiveColumn,
  marks: readonly Mark[],
  stretches: readonly Stretch[],
): Pairs {
  const pairs: Pairs = {
    pressure: new Float64Array(signal.length),
    signal: new Float64Array(signal.length),
    direction: new Int8Array(signal.length),
    stretch: new Int32Array(signal.length),
    length: 0,
  };
  const sweeps = sweepsOf(marks);
  const trials = trialSpansOf(marks);
  const stretchOf = stretchAt(stretches);
  let highest = 0;
  for (let i = 0; i < pressure.length; i++) highest = Math.max(highest, Math.abs(pressure.value[i]!) || 0);
  for (let i = 0; i < signal.length; i++) {
    const t = signal.elapsedS[i]!;
    const s = signal.value[i]!;
    if (Number.isNaN(s) || !isPlotted(t, sweeps, trials)) continue;
    const p = valueAt(pressure, t);
    if (p === undefined) continue;
    const before = valueAt(pressure, t - lookBackS);
    const turned = before === undefined ? 0 : p - before;
    pairs.pressure[pairs.length] = p;
    pairs.signal[pairs.length] = s;
    pairs.direction[pairs.length] = Math.abs(turned) <= minTurnShare * highest ? 0 : Math.sign(turned);
    const at = stretchOf(t);
    pairs.stretch[pairs.length] = stretches[at]?.kind === 'lit' ? at : -1;
    pairs.length += 1;
  }
  return pairs;
}

/** Linear interpolation at `t`; undefined before the first reading, after the last, in a gap and next to a flagged one. */
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
  return t1 - t0 > maxGapS || Number.isNaN(v) ? undefined : v;
}
