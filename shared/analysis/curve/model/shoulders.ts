import { exp, log } from '../../../numerics/elementary.ts';
import type { Layout } from './shape.ts';

/** One shoulder: the pressure at its middle, one over its width, and its skew. */
interface Shoulder {
  at: number;
  perWidth: number;
  skew: number;
}

/**
 * What the shoulders leave of the plateau at each of some pressures, with the logarithms that their skews need. Kept, since a search asks for
 * the slopes where it has just asked for the signal, and exponentials are most of both.
 */
export interface Shoulders {
  low: Shoulder | undefined;
  high: Shoulder | undefined;
  /** Logistic function of the low and of the high shoulder, and its logarithm where there is a skew. */
  rise: Float64Array;
  logRise: Float64Array;
  fall: Float64Array;
  logFall: Float64Array;
  /** Both shoulders with their skews, multiplied. */
  full: Float64Array;
}

/** Makes one for so many pressures, without a shoulder. */
export const createShoulders = (count: number): Shoulders => ({
  low: undefined,
  high: undefined,
  rise: new Float64Array(count).fill(1),
  logRise: new Float64Array(count),
  fall: new Float64Array(count).fill(1),
  logFall: new Float64Array(count),
  full: new Float64Array(count).fill(1),
});

/**
 * The shoulders of a curve along some pressures.
 *
 * @param x     parameters in the order of `layout`
 * @param kept  of the same layout and pressures: what it holds is taken where its shoulders are these, else it is filled anew
 */
export function shouldersAlong(
  x: Float64Array,
  layout: Layout,
  pressure: Float64Array,
  kept: Shoulders | undefined,
): Shoulders {
  const into = kept ?? createShoulders(pressure.length);
  const low = shoulderAt(x, layout.low, layout.lowWidth, layout.lowSkew);
  const high = shoulderAt(x, layout.high, layout.highWidth, layout.highSkew);
  const hasLow = isSame(low, into.low);
  const hasHigh = isSame(high, into.high);
  if (low && !hasLow) follow(low, 1, layout.lowSkew >= 0, pressure, into.rise, into.logRise);
  if (high && !hasHigh) follow(high, -1, layout.highSkew >= 0, pressure, into.fall, into.logFall);
  if (!hasLow || !hasHigh) multiply(low, high, into);
  into.low = low;
  into.high = high;
  return into;
}

function follow(
  { at, perWidth }: Shoulder,
  side: 1 | -1,
  isSkewed: boolean,
  pressure: Float64Array,
  share: Float64Array,
  logarithm: Float64Array,
): void {
  for (let i = 0; i < pressure.length; i += 1) {
    const value = 1 / (1 + exp(-(side * (pressure[i]! - at) * perWidth)));
    share[i] = value;
    if (isSkewed) logarithm[i] = log(value);
  }
}

function multiply(low: Shoulder | undefined, high: Shoulder | undefined, into: Shoulders): void {
  const { rise, logRise, fall, logFall, full } = into;
  for (let i = 0; i < full.length; i += 1) {
    const risen = low && low.skew !== 1 ? exp(low.skew * logRise[i]!) : rise[i]!;
    const fallen = high && high.skew !== 1 ? exp(high.skew * logFall[i]!) : fall[i]!;
    full[i] = risen * fallen;
  }
}

const isSame = (one: Shoulder | undefined, other: Shoulder | undefined): boolean =>
  one?.at === other?.at && one?.perWidth === other?.perWidth && one?.skew === other?.skew;

function shoulderAt(x: Float64Array, at: number, width: number, skew: number): Shoulder | undefined {
  if (at < 0) return undefined;
  return { at: x[at]!, perWidth: exp(-x[width]!), skew: skew < 0 ? 1 : exp(x[skew]!) };
}
