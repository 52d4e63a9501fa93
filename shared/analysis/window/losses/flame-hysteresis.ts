import { convertPressure, type PressureUnit } from '../../../model/units.ts';
import type { StateSpan } from '../../../burner-state/track.ts';
import { bootstrapInterval, type Estimate } from '../../curve/estimate.ts';
import { replicatesOf } from '../../curve/bootstrap.ts';
import type { FittedCurve } from '../../curve/fit-curve.ts';
import { pressureAt, type PressureGrid } from '../../sweep/series/pressure-grid.ts';
import { leastTurnInH2O } from '../../sweep/flame/falls.ts';
import { type MomentUncertainty, withMoment } from '../ends/loss-moment.ts';
import type { FittedLoss } from './middle-losses.ts';

/** A flame lost at one pressure that came back by itself at another, farther inside, with gas on; pressures in the sweep's unit. */
export interface FlameHysteresis {
  side: 'low' | 'high';
  lostAt: number;
  returned: Estimate;
}

/** A light-off belongs to a return of the flame from so long before it: a clock read by hand is no better. */
const aroundS = 2;
/** The regulator was being turned when the flame came back if it was at some time within so many seconds before. */
const beforeS = 1;

/** Where the flame goes in a jerk of the hand the gas may be unknown for less than this, seconds; a valve shuts for longer. */
const unknownS = 2;

/** Whether gas flowed all the time between two moments, and no light-off is on record there. */
function isLeftAlone(fromS: number, toS: number, spans: readonly StateSpan[], lightOffs: readonly number[]): boolean {
  const between = spans.filter(({ from_s, to_s }) => from_s < toS && to_s > fromS);
  return (
    between.length > 0 &&
    between.every(({ gas, from_s, to_s }) => gas === 'flowing' || (gas === 'unknown' && to_s - from_s < unknownS)) &&
    !lightOffs.some((s) => s > fromS - aroundS && s < toS + aroundS)
  );
}

/** Whether the regulator was being turned just before a moment: a flame that comes back at rest was lit by a spark, or by chance. */
const wasTurned = (atS: number, grid: PressureGrid, leastTurn: number, spans: readonly StateSpan[]): boolean =>
  Math.abs(pressureAt(grid, atS + beforeS / 4) - pressureAt(grid, atS - beforeS)) > leastTurn ||
  spans.some(
    ({ from_s, to_s, regulator }) =>
      from_s < atS && to_s > atS - beforeS && (regulator === 'turning-in' || regulator === 'turning-out'),
  );

/**
 * The losses of the flame after which it came back by itself: gas flowed all the while, no light-off is on record, and the
 * regulator was being turned. One that came back at rest may have been relit by a spark that nobody recorded.
 *
 * @param losses     fitted ones that end the signal interval or lie beyond its end
 * @param lightOffs  moments at which a light-off is on record, seconds
 */
export function flameHysteresisOf(
  losses: readonly FittedLoss[],
  { replicates, tested, degrees }: FittedCurve,
  grid: PressureGrid,
  spans: readonly StateSpan[],
  lightOffs: readonly number[],
  { timeU, pressureU, confidence, unit }: MomentUncertainty & { confidence: number; unit: PressureUnit },
): FlameHysteresis[] {
  const leastTurn = convertPressure(leastTurnInH2O, 'inH2O', unit);
  return losses.flatMap(({ lostS, relitS, lostAt, relitParameter }): FlameHysteresis[] => {
    if (!(relitS > lostS && relitS < Infinity && isLeftAlone(lostS, relitS, spans, lightOffs))) return [];
    const returnedAt = pressureAt(grid, relitS);
    if (!wasTurned(relitS, grid, leastTurn, spans)) return [];
    const side = lostAt - tested[0] < tested[1] - lostAt ? 'low' : 'high';
    if ((side === 'low') !== returnedAt > lostAt) return [];
    const drawn = replicatesOf(replicates, relitParameter).map((s) => pressureAt(grid, s));
    const returned = bootstrapInterval(returnedAt, drawn, confidence, degrees.both);
    return [{ side, lostAt, returned: withMoment(returned, grid, relitS, { timeU, pressureU }) }];
  });
}
