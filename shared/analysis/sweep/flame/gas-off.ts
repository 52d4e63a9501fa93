import { leastProbability } from '../../../burner-state/chain/label.ts';
import type { StateSpan } from '../../../burner-state/track.ts';
import { extent } from '../../../numerics/descriptive.ts';
import { lastTime, pressureAt, type PressureGrid } from '../series/pressure-grid.ts';
import { typicalStep, type Series } from '../series/series.ts';

/** A stretch from the shutting of the pilot gas until a flame burns again; seconds, infinite where the capture ends before. */
export interface GasOff {
  fromS: number;
  /** When gas flowed again, and when a flame was seen to burn. */
  gasBackS: number;
  litS: number;
  /** No flame was seen before it in this capture. */
  isFirst: boolean;
  /**
   * How well it is known that a valve shut, and that nobody turned the regulator down: `known` by a jump of the pressure or an entered
   * fan-only pressure, `unclear`, or `turned`: the pressure went down and came back no faster than by hand.
   */
  evidence: 'known' | 'unclear' | 'turned';
}

/** A flame burns, however it flickers. */
export const burns = ({ gas, flame }: StateSpan): boolean =>
  gas !== 'shut' && gas !== 'closing' && (flame === 'burning' || flame === 'unsteady');
/**
 * Whether a state is unknown because a meter is in trouble: the readings leave no doubt otherwise, and what they would say is not believed.
 */
export const isUnseen = (span: StateSpan, state: 'gas' | 'flame'): boolean =>
  span[state] === 'unknown' && span.probability >= leastProbability;
const isOff = ({ gas }: StateSpan): boolean => gas === 'shut' || gas === 'closing' || gas === 'opening';

/** Nobody turns so fast that the pressure falls to less than this share within a second, and a valve is no slower (common practice). */
const valveJump = 0.6;
/** A fall to more than this share within a second is one that a hand makes. */
const handJump = 0.85;

/**
 * Whether the pressure jumps while the flame burns on, as in stairs: then a jump shows no valve. The valve's own shutting, which a slow
 * manometer shows late and the burning flame's lag longer still, must not be taken for one.
 */
function doesJumpLit(spans: readonly StateSpan[], pressure: Series, grid: PressureGrid): boolean {
  const marginS = 1 + jumpS(pressure) / 2;
  return spans.some((span) => {
    const [fromS, toS] = [span.from_s + marginS, span.to_s - marginS];
    return burns(span) && ([1, -1] as const).some((way) => steepestFall(pressure, grid, fromS, toS, way) < valveJump);
  });
}

/** So long before its jump the pressure of a shut valve stands still, seconds, but for this share of the jump. */
const standsS = 5;
const standsShare = 0.03;

/**
 * Whether a valve opened between two times, in seconds: the pressure rose faster than by hand, and had stood still before. By hand it is
 * turned down, if at all, just before it is turned up.
 */
export function isOpened(
  spans: readonly StateSpan[],
  pressure: Series,
  grid: PressureGrid,
  fromS: number,
  toS: number,
): boolean {
  if (steepestFall(pressure, grid, fromS, toS, -1) >= valveJump || doesJumpLit(spans, pressure, grid)) return false;
  const [shut, open] = [pressureAt(grid, fromS), pressureAt(grid, toS)];
  // The last moment at which the pressure was nearer to what it was before.
  let jumpAtS = toS;
  while (jumpAtS > fromS && pressureAt(grid, jumpAtS) > (shut + open) / 2) jumpAtS -= grid.stepS;
  const endS = jumpAtS - 2 * jumpS(pressure);
  const before = Array.from({ length: 20 }, (_, i) => pressureAt(grid, endS - (standsS * i) / 20));
  return Math.max(...before) - Math.min(...before) < standsShare * (open - shut);
}

/**
 * The stretches in which the tracker says that gas was shut, each with how well that is known.
 *
 * @param fanOnly  the entered fan-only pressure, in the unit of the pressures
 */
export function gasOffStretches(
  spans: readonly StateSpan[],
  pressure: Series,
  grid: PressureGrid,
  fanOnly: number | undefined,
): GasOff[] {
  const stretches: GasOff[] = [];
  const entered = fanOnly !== undefined;
  const jumpsLit = doesJumpLit(spans, pressure, grid);
  for (let i = 0; i < spans.length; i += 1) {
    if (!isOff(spans[i]!)) continue;
    let end = i;
    while (end < spans.length && !burns(spans[end]!)) end += 1;
    let lastOff = i;
    for (let k = i; k < end; k += 1) if (isOff(spans[k]!)) lastOff = k;
    let first = i;
    // What is not known just before belongs to the shutting.
    while (first > 0 && spans[first - 1]!.gas === 'unknown' && !burns(spans[first - 1]!)) first -= 1;
    const fromS = spans[first]!.from_s;
    const gasBackS = lastOff + 1 < spans.length ? spans[lastOff]!.to_s : Infinity;
    const litS = end < spans.length ? spans[end]!.from_s : Infinity;
    const isFirst = !spans.slice(0, i).some(burns);
    const fall = isFirst ? 1 : steepestFall(pressure, grid, fromS - 1, fromS + 3);
    const rise = gasBackS === Infinity ? 1 : steepestFall(pressure, grid, gasBackS - 4, gasBackS + 2, -1);
    stretches.push({
      fromS,
      gasBackS,
      litS,
      isFirst,
      evidence: evidenceOf(fall, rise, {
        entered,
        isFirst,
        isLast: gasBackS === Infinity,
        jumpsLit,
        neverLit: isFirst && litS === Infinity,
        staysOpen: !isFirst && gasBackS < Infinity && staysOpen(fanOnly, grid, spans.slice(i, lastOff + 1)),
      }),
    });
    i = end;
  }
  return stretches;
}

/** A valve that shuts lets the pressure go to nearer to the fan-only pressure than this share of what it was before. */
const openShare = 0.15;

/** Whether the pressure went down fast and came up again well above an entered fan-only pressure: a hand that turns as fast as a valve. */
function staysOpen(fanOnly: number | undefined, grid: PressureGrid, spans: readonly StateSpan[]): boolean {
  if (fanOnly === undefined || spans.some(({ gas }) => gas === 'shut')) return false;
  const [fromS, toS] = [spans[0]!.from_s, spans.at(-1)!.to_s];
  let [least, most] = [Infinity, -Infinity];
  for (let t = fromS - 1; t <= toS + 1; t += grid.stepS) {
    least = Math.min(least, pressureAt(grid, t));
    most = Math.max(most, pressureAt(grid, t));
  }
  return least - fanOnly > openShare * (most - fanOnly);
}

function evidenceOf(
  fall: number,
  rise: number,
  {
    entered,
    isFirst,
    isLast,
    jumpsLit,
    neverLit,
    staysOpen,
  }: Record<'entered' | 'isFirst' | 'isLast' | 'jumpsLit' | 'neverLit' | 'staysOpen', boolean>,
): GasOff['evidence'] {
  // Where no flame was ever seen, or none burned above an entered fan-only pressure, there is nothing to tell a shut valve from.
  if (neverLit || staysOpen) return 'turned';
  const jump = Math.min(fall, rise);
  if ((jump < valveJump && !jumpsLit) || (entered && (jump < handJump || isLast))) return 'known';
  // An entered fan-only pressure may be wrong: one at which the pilot is turned down and up again is.
  if (entered) return 'turned';
  return jump < handJump || isFirst || isLast ? 'unclear' : 'turned';
}

/** A valve lets more than this share of all pressures go; near zero, as with the hose on the wrong port, any turn is a large share. */
const minFall = 1 / 12;

/** A hand that turns as fast all the way takes ever larger shares: those of the pressure so many seconds ago count. */
const turnsForS = 2;
/** Seconds within which a valve's jump is seen: one and a half readings of a slow manometer. */
const jumpS = (pressure: Series): number => Math.max(1, 1.5 * typicalStep(pressure));

/**
 * The smallest share to which the pressure falls within a second, or within one and a half readings of a slow manometer, between two
 * times in seconds; 1 where it never falls. The share is that of the pressure two seconds before a fall, or after a rise.
 *
 * @param way  -1 for the share from which it rises
 */
export function steepestFall(
  pressure: Series,
  grid: PressureGrid,
  fromS: number,
  toS: number,
  way: 1 | -1 = 1,
): number {
  const withinS = jumpS(pressure);
  let least = 1;
  const [lowest, highest] = extent(grid.pressure);
  const leastFall = minFall * (highest - lowest);
  const [from, to] = [Math.max(grid.startS, fromS), Math.min(lastTime(grid), toS)];
  for (let t = from; t + withinS <= to + withinS / 2; t += withinS / 8) {
    const [before, after] = [pressureAt(grid, t), pressureAt(grid, t + withinS)];
    const [high, low] = way === 1 ? [before, after] : [after, before];
    const far = pressureAt(grid, way === 1 ? Math.max(from, t - turnsForS) : Math.min(to, t + withinS + turnsForS));
    if (high > 0 && high - low >= leastFall)
      least = Math.min(least, 1 - (high - Math.max(0, low)) / Math.max(high, far));
  }
  return least;
}
