import type { ValveCondition } from './bench-controls.ts';

/** A simulated pilot valve on its command. */
export interface Valve {
  open: boolean;
  /** Part of the pressure before the valve that stands behind it when it is shut, 0 to 1. */
  leak: number;
}

/**
 * A leak of a third of the nozzle's area. Flow through both is area times square root of the pressure drop, so the pressure before the
 * nozzle is r / (1 + r) of that before the valve, both above the flame zone, with r the ratio of the areas squared.
 */
const leakRatio = 1 / 9;

/** Where the valve is after its command: a sound one follows at once. */
export const nextValve = (wasOpen: boolean, command: boolean, condition: ValveCondition): Valve => ({
  open: command || (wasOpen && condition === 'stuck-open'),
  leak: condition === 'leaking' ? leakRatio / (1 + leakRatio) : 0,
});
