/** The whole screw in about a minute: slow enough that a lagging detector does not smear the ends much. */
const screwS = 60;

/** Where the screw stands after turning one way for `forS` seconds; it stops at its ends. */
export const turnsAfter = (turns: number, direction: 1 | -1, forS: number, turnsMax: number): number =>
  Math.min(turnsMax, Math.max(0, turns + (direction * turnsMax * forS) / screwS));
