import { clipped, convexHull, type Point } from './hull.ts';
import { asPoint, type TriedPoint } from './lighting-model.ts';

/** Regions of pressure (first coordinate) and spark delay in seconds (second), each a convex polygon, or two points or one. */
export interface LightingRegions {
  /** Between trials that lit, with no failure at or inside: no nearer the setting with a spark as early or earlier. */
  proved: Point[][];
  /** Between all that was tried; what is not proved of it is in doubt. */
  tried: Point[];
}

/**
 * Where the pilot is shown to light, in pressure and spark delay, and where that is in doubt. Nothing outside of what was tried; nothing
 * from a failure on outward and with a later spark, whatever lit there.
 *
 * @param setting  the pressure to which distances are counted; a failure within its tolerance counts on both sides
 */
export function lightingRegions(
  trials: readonly TriedPoint[],
  setting: { pressure: number; tolerance: number },
): LightingRegions {
  const failures = trials
    .filter(({ lit }) => !lit)
    .map((trial) => ({ trial, distance: trial.pressure - setting.pressure }));
  const isAtSetting = (distance: number) => Math.abs(distance) <= setting.tolerance;
  const isSound = ({ pressure, delayS }: TriedPoint): boolean => {
    const distance = pressure - setting.pressure;
    return !failures.some(
      (failure) =>
        failure.trial.delayS <= delayS &&
        (isAtSetting(failure.distance) ||
          (failure.distance * distance > 0 && Math.abs(failure.distance) <= Math.abs(distance))),
    );
  };
  const sound = trials.filter((trial) => trial.lit && isSound(trial)).map(asPoint);
  // What is sound lies before the spark of every failure at the setting already.
  const away = failures.filter(({ distance }) => !isAtSetting(distance));
  const proved = away.reduce<Point[][]>(
    (pieces, { trial, distance }) =>
      pieces.flatMap((piece) => {
        const inward = distance > 0 ? 1 : -1;
        const isFarther = piece.some(([pressure]) => inward * (pressure - trial.pressure) > 0);
        if (!isFarther) return [piece];
        const farther = clipped(piece, 0, trial.pressure, inward === 1 ? -1 : 1);
        return [clipped(piece, 0, trial.pressure, inward), clipped(farther, 1, trial.delayS, 1)].filter(
          (part) => part.length > 0,
        );
      }),
    [convexHull(sound)],
  );
  return { proved: proved.filter((piece) => piece.length > 0), tried: convexHull(trials.map(asPoint)) };
}
