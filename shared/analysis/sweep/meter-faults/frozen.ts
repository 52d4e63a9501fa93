import { extent, median, quantile } from '../../../numerics/descriptive.ts';
import { exp, log } from '../../../numerics/elementary.ts';
import { longestLag, shortestLagS } from '../series/initial-estimates.ts';
import { readingNoise, resolutionOf } from '../series/meter-noise.ts';
import { keepOnly, keepWhere, longestGap, type Series } from '../series/series.ts';

/** A stretch over which a meter repeated one value while the other meter went on: seconds, and the value in its unit. */
export interface FrozenStretch {
  fromS: number;
  toS: number;
  value: number;
}

/** The stretches of both meters, in time order. */
export interface FrozenMeters {
  pressure: FrozenStretch[];
  signal: FrozenStretch[];
}

/** A value may repeat for so long without a question, seconds, and so many times. */
const leastS = 6;
const leastReadings = 5;
/** A signal that moves by less than this share of its height may be noise; a pressure, of all it did in the sweep, a hand at rest. */
const minSignalMovement = 0.2;
const minPressureMovement = 0.05;
/** Nor is the noise of a signal without a flame: eight in ten of its readings lie within 2.6 deviations. A movement is wider than so many. */
const noiseWidths = 6;
/** A meter that goes on by this share of all that it showed at once had stood still: nobody turns so fast. */
const jumpShare = 0.1;
/** The states tell the moving of a valve to within this, seconds. */
const nearValveS = 1.5;
/** A detector's dark is lower than this share of the highest signal. */
const darkShare = 0.1;
/** A repetition that is less probable than this by the meter's own noise is no chance. */
const improbable = 1e-8;
/** A fall to less than this share of what the fastest detector leaves was never shown on its way. */
const fastestShare = 0.5;
/** Readings within so many digits of a value show how often it repeats there. */
const nearDigits = 5;

/**
 * @param mayBurn  1 for the readings of the signal at which the flame may burn and the pressure is known
 * @param valveS  when the pilot valve moved, seconds: a manometer at rest goes on with a jump then too
 */
export const findFrozen = (
  pressure: Series,
  signal: Series,
  mayBurn: Uint8Array,
  valveS: readonly number[],
): FrozenMeters => ({
  pressure: frozenManometer(pressure, keepOnly(signal, mayBurn), valveS),
  signal: frozenSignal(signal, pressure),
});

/** 1 for readings of the signal outside of all frozen stretches; those that may still follow a frozen pressure are inside. */
export function whileMoving({ time }: Series, { pressure, signal }: FrozenMeters): Uint8Array {
  const moves = (t: number) =>
    !signal.some(({ fromS, toS }) => t > fromS && t <= toS) &&
    !pressure.some(({ fromS, toS }) => t > fromS && t <= toS + longestLag);
  return keepWhere(time.length, (i) => moves(time[i]!));
}

/**
 * Stretches over which the manometer repeated one value while the signal moved: no regulator stands still to the last digit while
 * the flame goes down a shoulder. A signal that is lost, or that still follows an earlier turn, moves for less than the longest
 * lag. So does one that goes on with a jump after it had repeated a value.
 *
 * @param signal  readings while the flame burned
 */
function frozenManometer(pressure: Series, signal: Series, valveS: readonly number[]): FrozenStretch[] {
  const jump = jumpShare * spread(pressure.value);
  // One that never moved shows one pressure, which is refused as such.
  if (jump === 0) return [];
  const least = Math.max(minSignalMovement * quantile(signal.value, 0.95), noiseWidths * readingNoise(signal.value));
  const usualStep = usualStepOf(pressure);
  return runsOf(pressure).filter(({ fromS, toS, last }) => {
    if (between(signal, fromS, toS).length < leastReadings) return false;
    const next = Math.abs((pressure.value[last + 1] ?? pressure.value[last]!) - pressure.value[last]!);
    const isValve = valveS.some((at) => Math.abs(at - toS) < nearValveS);
    if (next > jump && next > 10 * usualStep && !isValve) return true;
    const other = between(signal, fromS + longestLag, toS);
    return other.length >= leastReadings && spread(other) > least;
  });
}

/**
 * Stretches over which the signal meter repeated one value while the pressure moved, though its noise does not let it elsewhere
 * near that value. The dark of a detector and the bottom of the meter's range may stand still, and the top of an amplifier unless the
 * signal falls from it at once.
 */
function frozenSignal(signal: Series, pressure: Series): FrozenStretch[] {
  const { value } = signal;
  const digit = resolutionOf(value);
  const [lowest, highest] = extent(value);
  return runsOf(signal).filter((run) => {
    const other = between(pressure, run.fromS, run.toS);
    if (spread(other) <= minPressureMovement * spread(pressure.value)) return false;
    if (run.value >= highest) return fellAtOnce(signal, run);
    // A signal comes up from the bottom of the meter's range as it went; a meter that was frozen goes on with a jump.
    const jump = Math.abs((value[run.last + 1] ?? Infinity) - run.value);
    if (run.value <= lowest && (run.value < darkShare * highest || jump < jumpShare * (highest - lowest))) return false;
    const { repeats, all } = repetitionsNear(signal, run, nearDigits * digit);
    // As if one reading in two repeated, where there are hardly any others.
    return run.count * log((repeats + 2) / (all + 4)) < log(improbable);
  });
}

/**
 * Whether the signal fell after a run faster than any detector lets it, even from above the top of an amplifier: the meter had stood still
 * meanwhile.
 */
function fellAtOnce({ time, value }: Series, { last, value: top }: Run): boolean {
  if (last + 1 >= value.length) return false;
  const least = top * exp(-(time[last + 1]! - time[last]!) / shortestLagS);
  return value[last + 1]! < fastestShare * least;
}

/** A stretch with the number of its readings and the place of the last. */
interface Run extends FrozenStretch {
  count: number;
  last: number;
}

/** Runs of one value that last long enough to be looked at. */
function runsOf(series: Series): Run[] {
  const { time, value } = series;
  const gapS = longestGap(series);
  const runs: Run[] = [];
  let from = 0;
  for (let i = 1; i <= value.length; i += 1) {
    if (i < value.length && value[i] === value[from] && time[i]! - time[i - 1]! <= gapS) continue;
    const [fromS, toS] = [time[from]!, time[i - 1]!];
    if (toS - fromS >= leastS && i - from >= leastReadings)
      runs.push({ fromS, toS, value: value[from]!, count: i - from, last: i - 1 });
    from = i;
  }
  return runs;
}

/** How often a reading near a value repeats the one before it, the run itself left out. */
function repetitionsNear({ time, value }: Series, run: FrozenStretch, near: number): { repeats: number; all: number } {
  let [repeats, all] = [0, 0];
  for (let i = 1; i < value.length; i += 1) {
    if (time[i]! >= run.fromS && time[i]! <= run.toS) continue;
    if (Math.abs(value[i]! - run.value) > near) continue;
    all += 1;
    if (value[i] === value[i - 1]) repeats += 1;
  }
  return { repeats, all };
}

/** Median step between two readings that differ, in the unit of the values; 0 where none do. */
function usualStepOf({ value }: Series): number {
  const steps = new Float64Array(value.length);
  let n = 0;
  for (let i = 1; i < value.length; i += 1)
    if (value[i] !== value[i - 1]) steps[n++] = Math.abs(value[i]! - value[i - 1]!);
  return n > 0 ? median(steps.subarray(0, n)) : 0;
}

const between = ({ time, value }: Series, fromS: number, toS: number): Float64Array =>
  value.filter((_, i) => time[i]! >= fromS && time[i]! <= toS);

/** Distance between the lowest and the highest tenth: a spike and a shutter's pulses are no movement. */
function spread(values: Float64Array): number {
  if (values.length === 0) return 0;
  return quantile(values, 0.9) - quantile(values, 0.1);
}
