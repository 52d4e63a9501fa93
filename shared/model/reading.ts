import { pressureUnits, signalUnits } from './units.ts';

/** What a channel measures, and the units allowed for it. The names are those of the capture files. */
export const unitsOfRole = {
  pilot_pressure: pressureUnits,
  fan_pressure: pressureUnits,
  supply_pressure: pressureUnits,
  furnace_pressure: pressureUnits,
  flame_signal: signalUnits,
  damper_position: ['percent', 'deg', 'in', 'mm'],
  ignition: ['on'],
  pilot_valve: ['on'],
} as const;

export type Role = keyof typeof unitsOfRole;
export const roles = Object.keys(unitsOfRole) as [Role, ...Role[]];
export type Unit = (typeof unitsOfRole)[Role][number];

/** Whether `unit` may be used for `role`. */
export const unitFits = (role: Role, unit: string): unit is Unit =>
  (unitsOfRole[role] as readonly string[]).includes(unit);

/**
 * Why a reading has no number.
 * `overload`: the meter reported an input beyond its range; `unreadable`: no number was found in the text;
 * `too-long`: over 512 characters; `unit-unknown`: a unit that cannot be converted to the channel's.
 */
export const flags = ['overload', 'unreadable', 'too-long', 'unit-unknown'] as const;
export type Flag = (typeof flags)[number];

/**
 * One number from one line of one meter.
 * `value` is NaN exactly when `flag` is set. `elapsedS` counts from the start of the capture.
 */
export interface Reading {
  role: Role;
  unit: Unit;
  elapsedS: number;
  value: number;
  flag?: Flag;
  /** The text it was decoded from, unchanged: the whole line from a meter, or one cell of a wide CSV. */
  raw: string;
  /** `seq` of the raw line it came from, when it came from a meter. */
  line?: number;
}
