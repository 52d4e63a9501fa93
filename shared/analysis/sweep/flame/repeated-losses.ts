import type { StateSpan } from '../../../burner-state/track.ts';
import { extent } from '../../../numerics/descriptive.ts';
import { pressureAt, type PressureGrid } from '../series/pressure-grid.ts';
import { keepOnly, type Series, typicalStep } from '../series/series.ts';
import { lagMarginShare } from './falls.ts';

/** Times without flame on one side, seconds: the flame went out there again and again, and came back without being turned back. */
export interface RepeatedLosses {
  side: 'low' | 'high';
  losses: Loss[];
  /** Innermost pressure at which it was lost or came back. */
  innermost: number;
  /** How far in it may drop out yet: farther in it would have been seen to, with a probability of 95 %. */
  farthest: number;
}

interface Loss {
  fromS: number;
  toS: number;
}

/**
 * Fewer losses than this are told one by one. At least so many of them come at rest, with a pressure that moves by less than this share of those tested:
 * only a flame that goes out makes the signal fall and rise there.
 */
const [minLosses, minAtRest] = [3, 1];
const restShare = 1 / 60;
/** What the pressure did so long before a loss, seconds, may have made it. */
const beforeS = 0.3;
/** A flame that comes back burns for longer than this, seconds, before it is lost anew; a shorter one is a doubt of the states. */
const shortestBurnS = 0.5;
/** Lost and back within so many seconds: one that stays out is blown off. */
const longestS = 6;
/** They lie within this share of the tested pressures from its end, and are this share of all losses: drafts come in the middle, too. */
const sideShare = 0.35;
const minShare = 0.8;
/** Losses to be expected where none was seen, for a chance of 5 %: the Poisson distribution gives exp(-3) for none. */
const expected = 3;

/**
 * Finds where the flame drops out and comes back again and again: losses with gas on that ended without a turn back inward, all on one side.
 * One that is blown off comes back only farther in, and past a cliff only once it was turned back. How far in it may drop out yet follows from the time that was spent there without a loss, at half the rate seen farther out,
 * since it drops out the less the farther in.
 *
 * @param spans            what the burner did, seconds
 * @param lowest, highest  tested pressures
 */
export function findRepeatedLosses(
  spans: readonly StateSpan[],
  grid: PressureGrid,
  [lowest, highest]: readonly [number, number],
): RepeatedLosses | undefined {
  const width = highest - lowest;
  const losses = lossesOf(spans);
  for (const side of ['low', 'high'] as const) {
    const inward = side === 'low' ? 1 : -1;
    const depth = (p: number) => (side === 'low' ? p - lowest : highest - p);
    const own = losses.filter(({ fromS }) => depth(pressureAt(grid, fromS)) < sideShare * width);
    const comesBack = own.filter(({ fromS, toS }) => {
      const lost = pressureAt(grid, fromS);
      const turnedBack = inward * (pressureAt(grid, toS) - lost);
      const turnedOut = Math.max(...momentsOf(fromS, toS).map((t) => inward * (lost - pressureAt(grid, t))));
      const margin = lagMarginShare * width;
      // Blown off, and turned back in until it came; or turned past a cliff and back.
      return turnedBack < margin && !(turnedOut > margin && turnedBack > -turnedOut / 2);
    });
    const atRest = comesBack.filter(({ fromS, toS }) => {
      const [least, most] = extent(Float64Array.from(momentsOf(fromS - beforeS, toS), (t) => pressureAt(grid, t)));
      return most - least < restShare * width;
    });
    if (comesBack.length < minLosses || atRest.length < minAtRest || own.length < minShare * losses.length) continue;
    const at = own.flatMap(({ fromS, toS }) => [pressureAt(grid, fromS), pressureAt(grid, toS)]);
    const innermost = side === 'low' ? Math.max(...at) : Math.min(...at);
    return { side, losses: own, innermost, farthest: farthestIn(grid, own, innermost, inward) };
  }
  return undefined;
}

/** Losses of a burning flame with gas on, spans that hardly leave a time between them taken together, that were over within `longestS`. */
function lossesOf(spans: readonly StateSpan[]): Loss[] {
  const losses: (Loss & { next: StateSpan | undefined })[] = [];
  spans.forEach(({ flame, from_s, to_s }, i) => {
    if (flame !== 'lost') return;
    const last = losses.at(-1);
    if (last && from_s - last.toS < shortestBurnS) Object.assign(last, { toS: to_s, next: spans[i + 1] });
    else losses.push({ fromS: from_s, toS: to_s, next: spans[i + 1] });
  });
  return losses
    .filter(
      ({ fromS, toS, next }) =>
        toS - fromS < longestS && next !== undefined && next.gas !== 'shut' && next.gas !== 'closing',
    )
    .map(({ fromS, toS }) => ({ fromS, toS }));
}

const momentsOf = (fromS: number, toS: number): number[] =>
  Array.from({ length: 9 }, (_, i) => fromS + ((toS - fromS) * i) / 8);

/** Pressure up to which the time spent without a loss explains that none was seen. */
function farthestIn(grid: PressureGrid, losses: readonly Loss[], innermost: number, inward: 1 | -1): number {
  const beyond = Array.from(grid.pressure, (p) => inward * (p - innermost)).sort((a, b) => a - b);
  const outside = beyond.filter((d) => d <= 0).length;
  const perStep = losses.length / Math.max(1, outside) / 2;
  const needed = Math.min(beyond.length - 1, outside + Math.ceil(expected / perStep));
  return innermost + inward * Math.max(0, beyond[needed]!);
}

/** After so many lags a flame that burns again shows its steady signal to 2 %. */
const settledLags = 4;

/**
 * The readings without those of a flame that drops out again and again, until it has settled each time.
 *
 * @param lagS  seconds by which the signal follows
 */
export function withoutLosses(signal: Series, { losses }: RepeatedLosses, lagS: number): Series {
  const settleS = settledLags * Math.max(lagS, typicalStep(signal));
  const isOut = (t: number) => losses.some(({ fromS, toS }) => t >= fromS && t <= toS + settleS);
  return keepOnly(
    signal,
    Uint8Array.from(signal.time, (t) => Number(!isOut(t))),
  );
}
