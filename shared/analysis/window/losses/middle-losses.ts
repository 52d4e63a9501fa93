import { mean } from '../../../numerics/descriptive.ts';
import { convertPressure, type PressureUnit } from '../../../model/units.ts';
import { lagMarginShare, leastTurnInH2O, oneSettingShare } from '../../sweep/flame/falls.ts';
import { lastTime, pressureAt, type PressureGrid } from '../../sweep/series/pressure-grid.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import type { CurveFit } from '../../curve/fit-shape.ts';

/** When the flame was out, seconds; `relitS` infinite where it did not come back. */
interface Dark {
  lostS: number;
  relitS: number;
}

/** Readings on each side of a loss that show that the flame burned there: two may be the moment of the loss itself. */
const minReadings = 3;

/** A flame whose signal was good for so long at rest, seconds, until just before it went out, was not put out by the pressure. */
const heldS = 10;
const justBeforeS = 1;
/** Of the readings meanwhile so many may be noise. */
const fewestGood = 0.9;
/** The moment of a loss is known to about so many seconds, with a lag that was fitted too long: a turn that began by then put the flame out. */
const turnedWithinS = 1;

/**
 * A test of whether a flame that was lost at a pressure burned well otherwise: both below and above it, or at rest for long at that very
 * pressure. Then the pressure did not put it out, and the loss ends no window. One that is lost at a cliff does not burn beyond it.
 *
 * @param required  required signal, unit of the pairs' signal
 * @param pressureNow  pressure at a time, in the pairs' unit and seconds, no lag removed
 * @param unit  of the pressures
 */
export function burnsOtherwise(
  { elapsedS, pressure, signal }: Pairs,
  [lowest, highest]: readonly [number, number],
  required: number,
  dark: readonly Dark[],
  pressureNow: (elapsedS: number) => number,
  unit: PressureUnit,
): (lost: { lostS: number; lostAt: number }) => boolean {
  const margin = lagMarginShare * (highest - lowest);
  // Where few pressures were tested a share of them is less than what a regulator at rest lets the pressure wander.
  const leastTurn = convertPressure(leastTurnInH2O, 'inH2O', unit);
  const near = Math.max(oneSettingShare * (highest - lowest), leastTurn / 2);
  const isDark = (t: number) => dark.some(({ lostS, relitS }) => t >= lostS && t <= relitS);
  const isGood = pressure.map((_, i) => Number(signal[i]! >= required && !isDark(elapsedS[i]!)));
  // A lag that was fitted too long puts the signal of a flame at a pressure that has passed; without the lag it must be there as well.
  const isBeyond = (i: number, from: number, by: 1 | -1) =>
    isGood[i] === 1 && (pressure[i]! - from) * by > 0 && (pressureNow(elapsedS[i]!) - from) * by > 0;
  const countBeyond = (from: number, by: 1 | -1) => pressure.filter((_, i) => isBeyond(i, from, by)).length;
  const meanOf = (some: readonly number[]) => mean(Float64Array.from(some, (i) => pressureNow(elapsedS[i]!)));
  const heldAtRest = ({ lostS, lostAt }: { lostS: number; lostAt: number }): boolean => {
    const [fromS, toS] = [lostS - justBeforeS - heldS, lostS - justBeforeS];
    const during = Array.from(elapsedS.keys()).filter((i) => elapsedS[i]! >= fromS && elapsedS[i]! <= toS);
    if (during.length < minReadings || elapsedS[0]! > fromS) return false;
    // A hand that turns, however slowly, moves the mean; one that rests leaves the manometer's last digit.
    const half = during.length >> 1;
    const [earlier, later] = [meanOf(during.slice(0, half)), meanOf(during.slice(half))];
    const rests = Math.abs(later - earlier) <= near && Math.abs(lostAt - later) <= Math.max(near, leastTurn);
    // Closing gas leaves the pressures of the sweep.
    const next = pressureNow(lostS + turnedWithinS);
    const isTurned = Math.abs(next - later) > Math.max(near, leastTurn) && next >= lowest && next <= highest;
    return rests && !isTurned && during.filter((i) => isGood[i] === 1).length >= fewestGood * during.length;
  };
  return (lost) =>
    heldAtRest(lost) ||
    (countBeyond(lost.lostAt - margin, -1) >= minReadings && countBeyond(lost.lostAt + margin, 1) >= minReadings);
}

/** A loss of the flame as fitted: `relitParameter` is the place of its second time among the parameters. */
export interface FittedLoss extends Dark {
  lostAt: number;
  relitParameter: number;
}

/** After so many lags of the signal a flame that burns again shows its steady signal to 2 %. */
const settledLags = 4;

/**
 * The readings of a flame that burned, each with its pressure: without those from a loss until the signal has settled again. At the
 * pressures between a loss and a return the signal has two values, of which the burner chooses by what went before.
 *
 * @param lagS  seconds by which the signal follows the pressure
 */
export function whileLit(pairs: Pairs, dark: readonly Dark[], lagS: number): Pairs {
  if (dark.length === 0) return pairs;
  const isLit = pairs.elapsedS.map((t) =>
    Number(!dark.some(({ lostS, relitS }) => t >= lostS && t <= relitS + settledLags * lagS)),
  );
  const kept = (values: Float64Array) => values.filter((_, i) => isLit[i] === 1);
  return {
    elapsedS: kept(pairs.elapsedS),
    pressure: kept(pairs.pressure),
    signal: kept(pairs.signal),
    direction: kept(pairs.direction),
  };
}

/** The losses of the flame that a fit has, in the order of its parameters. */
export function fittedLosses({ layout, fit }: CurveFit, grid: PressureGrid): FittedLoss[] {
  if (layout.flameLoss < 0) return [];
  const last = lastTime(grid);
  const losses: FittedLoss[] = [];
  for (let at = layout.flameLoss; at + 1 < layout.size; at += 2) {
    const [lostS, relitS] = [fit.parameters[at]!, fit.parameters[at + 1]!];
    losses.push({
      lostS,
      relitS: relitS < last ? relitS : Infinity,
      lostAt: pressureAt(grid, lostS),
      relitParameter: at + 1,
    });
  }
  return losses;
}
