import { convertPressure, type PressureUnit } from '../../shared/model/units.ts';
import { firstAfter, type LiveColumn } from '../state/live/live-buffer.ts';

/** Near enough is the greater of 1 % of the target and 0.02 inH2O: about what a regulator screw can be set to. Practice. */
const nearShare = 0.01;
const nearInH2O = 0.02;

export type Turn = 'in' | 'out' | 'stay';

export interface Adjustment {
  /** Present minus target, in the same unit; below zero is too low. */
  off: number;
  turn: Turn;
  /** How near counts as there. */
  near: number;
}

/** How far off the pressure is and which way to turn: turning in (clockwise) raises it. */
export function adjustmentTo(present: number, target: number, unit: PressureUnit): Adjustment {
  const near = Math.max(Math.abs(target) * nearShare, convertPressure(nearInH2O, 'inH2O', unit));
  const off = present - target;
  return { off, near, turn: Math.abs(off) <= near ? 'stay' : off < 0 ? 'in' : 'out' };
}

/** Steady: over the last `spanS` seconds every pressure reading lay within `near` of their mean. */
export function isSteady(pressure: LiveColumn, nowS: number, near: number, spanS = 5): boolean {
  const from = firstAfter(pressure, nowS - spanS);
  const values: number[] = [];
  for (let i = from; i < pressure.length; i++) {
    if (Number.isNaN(pressure.value[i]!)) return false;
    values.push(pressure.value[i]!);
  }
  if (values.length < 3) return false;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.every((value) => Math.abs(value - mean) <= near);
}
