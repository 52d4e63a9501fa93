import type { Known } from './chain/bins.ts';
import type { Filter } from './chain/filter.ts';
import type { Moment } from './chain/label.ts';
import { usuallyShutBelow } from './chain/thresholds.ts';

/**
 * Whether gas that looks shut at this pressure, inH2O, may flow: a hand in a hurry looks like a valve, so where shut gas stands must have
 * been entered or seen, or be as usual. Only live: there a wrong word is unlit gas. Afterwards the whole capture tells a valve from a hand
 * better, and the doubt would let the closing of a valve count as a part of the curve.
 */
export const doubtsShut = ({ fanOnly }: Known, filter: Pick<Filter, 'isShutUnseen'>, pressure: number): boolean =>
  fanOnly === undefined && filter.isShutUnseen() && pressure > usuallyShutBelow;

/** What can still be said where gas that looks shut may flow. */
export const withoutShut = (moment: Moment): Moment =>
  moment.gas === 'shut' || moment.flame === 'out' ? { ...moment, gas: 'unknown', flame: 'unknown' } : moment;

/** What can still be said while what burns, by the signal, may be the spark: what has ended was no flame that is lost. */
export const withoutFlame = (moment: Moment): Moment =>
  moment.flame === 'burning' || moment.flame === 'unsteady' || moment.flame === 'lighting'
    ? { ...moment, flame: 'unknown' }
    : moment.flame === 'lost'
      ? { ...moment, flame: 'dark' }
      : moment;

/** What can still be said when a meter is in trouble: without the manometer no gas, without the signal meter no flame. */
export function withTroubles(moment: Moment, pressure: boolean, signal: boolean): Moment {
  const burns = moment.flame === 'burning' || moment.flame === 'unsteady';
  return {
    ...moment,
    ...(pressure && { gas: 'unknown', regulator: 'unknown' }),
    ...((signal || (pressure && !burns)) && { flame: 'unknown' }),
  };
}
