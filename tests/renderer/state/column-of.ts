import type { LiveColumn } from '../../../renderer/state/live/live-buffer.ts';

/** A column of readings: seconds and value of each. */
export const columnOf = (points: readonly (readonly [number, number])[]): LiveColumn => ({
  elapsedS: Float64Array.from(points, ([t]) => t),
  value: Float64Array.from(points, ([, v]) => v),
  length: points.length,
  greatest: points.reduce((greatest, [, v]) => (v > greatest ? v : greatest), 0),
  shifts: 0,
});
