import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import type { RegulatorState } from '../../shared/model/burner-words.ts';
import { formatPressure, formatGuardedRange } from '../../shared/model/format.ts';
import { convertPressure, type PressureUnit } from '../../shared/model/units.ts';
import { firstAfter, type LiveColumn } from '../state/live/live-buffer.ts';

/** The tolerance is the greater of these two. Our choice: about as fine as a regulator screw can be set by hand. */
const toleranceShare = 0.01;
const toleranceInH2O = 0.02;

export type Turn = 'in' | 'out' | 'stay';

export interface Adjustment {
  /** Present minus target, in the same unit; below zero is too low. */
  difference: number;
  turn: Turn;
  /** Largest difference that counts as set. */
  tolerance: number;
}

/** What was on target stays so up to this many tolerances: at the edge a last digit would change the word several times a second. */
const leavesFrom = 1.5;

/**
 * How far off the pressure is and which way to turn: turning in (clockwise) raises it.
 *
 * @param said  what was said just before
 */
export function adjustmentTo(present: number, target: number, unit: PressureUnit, said?: Turn): Adjustment {
  const tolerance = Math.max(Math.abs(target) * toleranceShare, convertPressure(toleranceInH2O, 'inH2O', unit));
  const difference = present - target;
  const isOn = Math.abs(difference) <= (said === 'stay' ? leavesFrom * tolerance : tolerance);
  return { difference, tolerance, turn: isOn ? 'stay' : difference < 0 ? 'in' : 'out' };
}

/** Steady: over the last `spanS` seconds every pressure reading was within `tolerance` of their mean. */
export function isSteady(pressure: LiveColumn, nowS: number, tolerance: number, spanS = 5): boolean {
  const from = firstAfter(pressure, nowS - spanS);
  const values: number[] = [];
  for (let i = from; i < pressure.length; i++) {
    if (Number.isNaN(pressure.value[i]!)) return false;
    values.push(pressure.value[i]!);
  }
  if (values.length < 3) return false;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.every((value) => Math.abs(value - mean) <= tolerance);
}

/** The guarded ends of the window, low and high, in `unit`; undefined where no window was found. */
export function guardedWindow(analysis: AnalysisDetail | undefined, unit: PressureUnit): [number, number] | undefined {
  if (!analysis) return undefined;
  const { window, pressureUnit } = analysis.result;
  if (!window.low || !window.high) return undefined;
  const inUnit = (value: number) => convertPressure(value, pressureUnit, unit);
  return [inUnit(window.low.guarded), inUnit(window.high.guarded)];
}

/**
 * What is to be asked before the present pressure is recorded as as-left, each a sentence with its numbers: off the target, outside the
 * guarded window, still moving, repeated by a frozen manometer, or one at which the flame was lost `losses` times. Empty: nothing speaks
 * against it. Pressures in `unit`.
 */
export function asLeftDoubts(
  present: number,
  {
    target,
    window,
    regulator,
    isFrozen = false,
    losses = 0,
  }: {
    target?: number | undefined;
    window?: [number, number] | undefined;
    regulator: RegulatorState;
    isFrozen?: boolean;
    losses?: number;
  },
  unit: PressureUnit,
): string[] {
  const adjustment = target === undefined ? undefined : adjustmentTo(present, target, unit);
  const doubts: string[] = [];
  if (isFrozen) doubts.push('The manometer repeats itself: this may not be the pressure now.');
  if (adjustment && adjustment.turn !== 'stay')
    doubts.push(
      `It is ${formatPressure(Math.abs(adjustment.difference), unit)} ${adjustment.difference < 0 ? 'below' : 'above'} the target, ${formatPressure(target!, unit)}.`,
    );
  if (window && (present < window[0] || present > window[1]))
    doubts.push(`It is outside the guarded window, ${formatGuardedRange(window, unit)}.`);
  if (regulator === 'turning-in' || regulator === 'turning-out' || regulator === 'settling')
    doubts.push('The pressure is still changing.');
  if (losses > 0)
    doubts.push(`The flame was lost ${losses === 1 ? 'once' : `${losses} times`} at this pressure in this visit.`);
  return doubts;
}
