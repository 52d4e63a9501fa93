import type { Curve } from './curves.ts';

/** Step of the simulation, seconds. */
export const stepS = 0.02;

/** What hands and control hold at a moment: switches and the regulator's screw (as the pressure it asks for, inH2O). */
export interface Hands {
  fan: boolean;
  /** The damper is to open for a purge. */
  damper: boolean;
  valve: boolean;
  spark: boolean;
  screw: number;
}

/** Longest time for which any self-checking detector of the generator closes its shutter, seconds. */
export const longestPulseS = 0.8;

/** Everything that is true of one burner. Pressures in inH2O, signals as a share of the amplitude, times in s. */
export interface BurnerFacts {
  curve: Curve;
  flame: {
    /** Below and above these the flame leaves the nozzle. */
    lostBelow: number;
    lostAbove: number;
    /** Inside these a flame that was lost comes back by itself, if it `returns` at all. */
    returnsAbove: number;
    returnsBelow: number;
    returns: boolean;
    /** Pressures at which a spark lights it, and the upper one after a delay of the spark. */
    lightsAbove: number;
    lightsBelow: number;
    lightsBelowDelayed: number;
    /** Mean time from spark to flame. */
    lightsIn: number;
    /** Seconds of burning after which a draft blows it out, in any order. */
    blownOutAt: number[];
    /** The pilot does not light whatever the pressure (spark failed) at these attempts, counted from 0. */
    failsAt: number[];
  };
  regulator: {
    springLow: number;
    springHigh: number;
    /** Dead band between turning in and turning out. */
    hysteresis: number;
    followsIn: number;
    /** Share of each change that comes late, and how late. */
    creep: number;
    creepS: number;
    /** How far the pressure at no flow lies above the setting, as a share, and how fast that goes at the opening. */
    lockUp: number;
    lockUpS: number;
    /** Share by which the pressure falls after a minute or so of flow. */
    droop: number;
    /** Slow hunting about the setting, as a share. */
    hunting: number;
    /** Seconds by which the first opening of the day comes late. */
    stickyS: number;
  };
  valve: {
    openS: number;
    closeS: number;
    riseS: number;
    fallS: number;
    /** What stays on of the pressure above fan-only after the valve was shut; 1: stuck open. From the n-th shutting on. */
    leak: { share: number; fallS: number; fromShut: number };
  };
  fan: {
    /** Pressure at the pilot tap with the valve shut. */
    only: number;
    drift: number;
    /** That pressure in a purge, as a multiple of that at light-off, and how long the damper takes from one to the other. */
    purgeTimes: number;
    damperS: number;
    /** Pressure of the fan itself. */
    own: number;
    spinS: number;
  };
  detector: {
    deadS: number;
    lagS: number;
    /** Dark signal and what the spark adds. */
    dark: number;
    sparkAdds: number;
    /** Highest signal of the amplifier. */
    clip: number;
    /** Deviation of the flicker of the light on the plateau and, in addition, half way down a shoulder. */
    flicker: number;
    shoulderFlicker: number;
    flickerS: number;
    /** Mean time between gusts; Infinity: none. */
    gustEveryS: number;
    /** Of a detector that checks itself; `closedS` is at most `longestPulseS`. */
    shutter?: { periodS: number; closedS: number };
    /** Signal is low by this share at the first light and warms up. */
    warmUp: number;
    warmUpS: number;
  };
  control: {
    /** Flame failure response time; Infinity: held by a test switch or a jumper. */
    failureS: number;
    trialS: number;
    /** Spark goes off when the flame is seen, or lasts for the whole trial. */
    sparkForWholeTrial: boolean;
  };
}
