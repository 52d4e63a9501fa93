import { lagStep } from './response.ts';
import type { Valve } from './valve.ts';

/** A simulated pilot regulator; pressures in inH2O at the pilot tap, screw in turns from its lower stop. */
export interface RegulatorParameters {
  turnsMax: number;
  /** Pressures at the two ends of the screw, with gas flowing. */
  springLow: number;
  springHigh: number;
  /** Full width of the dead band between turning in and turning out. */
  hysteresis: number;
  /** Droop: fall of the outlet pressure due to the flow at 1 inH2O above furnace pressure. */
  droop: number;
  /** Lock-up: rise of the outlet above its set pressure when the flow is shut off. */
  lockUp: number;
  /** Time constants of the outlet after a turn, and of the tap after the pilot valve moves. */
  settleS: number;
  tapS: number;
}

export interface Regulator {
  /** Advances by `stepS` and returns the pressure at the tap. */
  step(stepS: number, inputs: { turns: number; valve: Valve; fanPressure: number }): number;
}

/** The dead band is a backlash (play) operator; the rest are first-order responses. */
export function createRegulator(
  parameters: RegulatorParameters,
  start: { turns: number; fanPressure: number },
): Regulator {
  const spring = (turns: number): number =>
    parameters.springLow + ((parameters.springHigh - parameters.springLow) * turns) / parameters.turnsMax;
  const half = parameters.hysteresis / 2;
  const flow = (pressure: number, fanPressure: number): number => Math.sqrt(Math.max(0, pressure - fanPressure));

  let setPressure = spring(start.turns);
  let outlet = setPressure - parameters.droop * flow(setPressure, start.fanPressure);
  let tap = outlet;

  return {
    step(stepS, { turns, valve, fanPressure }) {
      const screwPressure = spring(turns);
      setPressure = Math.min(Math.max(setPressure, screwPressure - half), screwPressure + half);
      const target = valve.open
        ? setPressure - parameters.droop * flow(outlet, fanPressure)
        : setPressure + parameters.lockUp;
      outlet += (target - outlet) * lagStep(stepS, parameters.settleS);
      const shutTap = fanPressure + valve.leak * (outlet - fanPressure);
      tap += ((valve.open ? outlet : shutTap) - tap) * lagStep(stepS, parameters.tapS);
      return tap;
    },
  };
}
