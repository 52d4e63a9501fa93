import { lagStep } from './response.ts';

/** An invented pilot regulator; pressures in inH2O at the pilot tap, screw in turns from its lower stop. */
export interface RegulatorFacts {
  turnsMax: number;
  /** Pressures at the two ends of the screw, flowing. */
  springLow: number;
  springHigh: number;
  /** Full width of the dead band between turning in and turning out. */
  hysteresis: number;
  /** Fall of the outlet pressure at one inH2O above the furnace, through the flow it makes. */
  droop: number;
  /** How far the outlet rises above its set pressure when the flow is shut off. */
  lockUp: number;
  /** Time constants of the outlet after a turn, and of the tap after the pilot valve moves. */
  settleS: number;
  tapS: number;
}

export interface Regulator {
  /** Moves on by `stepS` and gives the pressure at the tap. */
  step(stepS: number, inputs: { turns: number; valveOpen: boolean; fanPressure: number }): number;
}

/** Source of the dead band: the play (backlash) operator; the rest are first-order responses. */
export function createRegulator(facts: RegulatorFacts, start: { turns: number; fanPressure: number }): Regulator {
  const spring = (turns: number): number =>
    facts.springLow + ((facts.springHigh - facts.springLow) * turns) / facts.turnsMax;
  const half = facts.hysteresis / 2;
  const flow = (pressure: number, fanPressure: number): number => Math.sqrt(Math.max(0, pressure - fanPressure));

  let played = spring(start.turns);
  let outlet = played - facts.droop * flow(played, start.fanPressure);
  let tap = outlet;

  return {
    step(stepS, { turns, valveOpen, fanPressure }) {
      const wanted = spring(turns);
      played = Math.min(Math.max(played, wanted - half), wanted + half);
      const target = valveOpen ? played - facts.droop * flow(outlet, fanPressure) : played + facts.lockUp;
      outlet += (target - outlet) * lagStep(stepS, facts.settleS);
      tap += ((valveOpen ? outlet : fanPressure) - tap) * lagStep(stepS, facts.tapS);
      return tap;
    },
  };
}
