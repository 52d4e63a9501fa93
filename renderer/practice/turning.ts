/** The whole range of the screw in one minute: slow enough that the lag of the detector does not smear the ends much. */
const screwS = 60;

/** Position of the screw after turning one way for `forS` seconds; it goes no further than its stops. */
export const turnsAfter = (turns: number, direction: 1 | -1, forS: number, turnsMax: number): number =>
  Math.min(turnsMax, Math.max(0, turns + (direction * turnsMax * forS) / screwS));
