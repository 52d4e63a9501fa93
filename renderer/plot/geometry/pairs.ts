import type { Mark } from '../../../shared/model/capture.ts';
import { type Stretch, stretchAt } from '../../../shared/model/stretches.ts';
import { type SweepSpan, sweepsOf, type TimeSpan, trialSpansOf } from '../../../shared/model/sweeps.ts';
import { firstAfter, type LiveColumn } from '../../state/live/live-buffer.ts';

/**
 * Signal against pressure as recorded, before any lag correction: what is plotted of it, in the order of time. `direction`: 1 turning in,
 * -1 turning out, 0 at rest. `stretch`: index of the stretch with a flame that it belongs to, -1 where no flame burns or nobody knows.
 */
export interface Pairs {
  pressure: number[];
  signal: number[];
  direction: number[];
  stretch: number[];
  /** Another number once earlier pairs have changed as well; otherwise pairs are only added. */
  generation: number;
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

/**
 * Pairs each signal reading with the pressure at its time, interpolated linearly between the pressure readings around it, as both columns
 * grow: a recording of hours costs only its new readings. What was paired before is looked at again only where marks or stretches changed,
 * or readings came out of order.
 */
export function createPairing(): {
  update(pressure: LiveColumn, signal: LiveColumn, marks: readonly Mark[], stretches: readonly Stretch[]): Pairs;
} {
  let basis = noBasis();
  let pairs: Pairs = { pressure: [], signal: [], direction: [], stretch: [], generation: 0 };
  let classified = 0;
  let known = { columns: '', rules: '', highest: 0 };
  const rulesOf = remembered((marks: readonly Mark[], stretches: readonly Stretch[]) => {
    const sweeps = sweepsOf(marks);
    const trials = trialSpansOf(marks);
    return { sweeps, trials, text: JSON.stringify([sweeps, trials, stretches]) };
  });

  return {
    update(pressure, signal, marks, stretches) {
      const columns = `${pressure.shifts} ${signal.shifts}`;
      if (columns !== known.columns) basis = noBasis();
      extend(basis, pressure, signal);

      const { sweeps, trials, text: rules } = rulesOf(marks, stretches);
      const highest = roundedUp(pressure.greatest);
      if (columns !== known.columns || rules !== known.rules || highest !== known.highest) {
        known = { columns, rules, highest };
        pairs = { pressure: [], signal: [], direction: [], stretch: [], generation: pairs.generation + 1 };
        classified = 0;
      }
      const stretchOf = stretchAt(stretches);
      const least = minTurnShare * highest;
      for (; classified < basis.elapsedS.length; classified += 1) {
        const t = basis.elapsedS[classified]!;
        if (!isPlotted(t, sweeps, trials)) continue;
        const turned = basis.turned[classified]!;
        const at = stretchOf(t);
        pairs.pressure.push(basis.pressure[classified]!);
        pairs.signal.push(basis.signal[classified]!);
        pairs.direction.push(Math.abs(turned) <= least ? 0 : Math.sign(turned));
        pairs.stretch.push(stretches[at]?.kind === 'lit' ? at : -1);
      }
      return pairs;
    },
  };
}

/** A function that computes anew only for other arguments than the last ones. */
function remembered<A extends unknown[], R>(compute: (...args: A) => R): (...args: A) => R {
  let last: { args: A; result: R } | undefined;
  return (...args) => {
    if (!last?.args.every((arg, i) => arg === args[i])) last = { args, result: compute(...args) };
    return last.result;
  };
}

/** The next of steps of two percent: a pressure that rises slowly does not change with every reading what counts as turning. */
const roundedUp = (pressure: number): number =>
  pressure > 0 ? 1.02 ** Math.ceil(Math.log(pressure) / Math.log(1.02)) : 0;

/** What of the pairs does not depend on marks and stretches. `turned`: change of the pressure over the time looked back. */
interface Basis {
  elapsedS: number[];
  pressure: number[];
  signal: number[];
  turned: number[];
  /** The first signal reading that is not paired yet. */
  next: number;
}

const noBasis = (): Basis => ({ elapsedS: [], pressure: [], signal: [], turned: [], next: 0 });

/** Pairs the signal readings up to the newest pressure: the pressure at a later time is not known yet. */
function extend(basis: Basis, pressure: LiveColumn, signal: LiveColumn): void {
  const knownUntilS = pressure.length > 0 ? pressure.elapsedS[pressure.length - 1]! : Number.NEGATIVE_INFINITY;
  for (; basis.next < signal.length; basis.next += 1) {
    const t = signal.elapsedS[basis.next]!;
    if (t > knownUntilS) return;
    const s = signal.value[basis.next]!;
    const p = Number.isNaN(s) ? undefined : valueAt(pressure, t);
    if (p === undefined) continue;
    basis.elapsedS.push(t);
    basis.pressure.push(p);
    basis.signal.push(s);
    basis.turned.push(p - (valueAt(pressure, t - lookBackS) ?? p));
  }
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
