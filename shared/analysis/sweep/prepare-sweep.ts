import { trackCapture } from '../../burner-state/track.ts';
import type { Capture } from '../../model/capture.ts';
import { type Fault, fault } from '../../model/faults.ts';
import type { Reading } from '../../model/reading.ts';
import { formatPressure } from '../../model/format.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import type { Setup } from '../../model/setup.ts';
import { trialSecondsOf } from '../../model/trials/valid-trials.ts';
import { sweepsOf } from '../../model/sweeps.ts';
import { allFrozen } from './meter-faults/all-frozen.ts';
import { clocksApart } from './meter-faults/clocks-apart.ts';
import { shareOneClock } from './meter-faults/one-clock.ts';
import { findFrozen, whileMoving } from './meter-faults/frozen.ts';
import { finiteTimes } from './finite-times.ts';
import { lagLimits } from './lag-limits.ts';
import { clean, removeSpikes, timelyTest, withoutWrongTimes } from './clean.ts';
import { collectSweep, lightOffMoments, minPairs } from './collect.ts';
import { findDropOuts, withoutDropOuts } from './flame/drop-outs.ts';
import { findRepeatedLosses, type RepeatedLosses, withoutLosses } from './flame/repeated-losses.ts';
import { findDarkStretches } from './flame/flame-loss.ts';
import { type LagLimits, longestLag, initialEstimates } from './series/initial-estimates.ts';
import { roughNoise } from './series/meter-noise.ts';
import { pressuresWhileUnclear, testedPressures, whilePressureKnown } from './series/pairs.ts';
import { pressureGrid, type PressureGrid } from './series/pressure-grid.ts';
import { averageBlocks, keepOnly, outside, type Series, subsample, typicalStep } from './series/series.ts';
import type { PreparedSweep } from './prepared-sweep.ts';
import { requiredSignal } from './required-signal.ts';
import { stepResponseOf } from './step-response.ts';
import { withoutPressure } from './meter-faults/no-pressure.ts';
import { lossesOutsideSweep } from './flame/at-rest-events.ts';
import { lossesWithGasOn } from './flame/losses-with-gas-on.ts';
import { unseenLosses } from './flame/unseen-losses.ts';
import { burns } from './flame/gas-off.ts';
import { settleS, whileBurning } from './flame/while-burning.ts';
import { settingsFor, type SweepSettings } from './sweep-settings.ts';

/** The capture without readings whose time is a logger's error: one such would stretch it to years. */
export function captureWithoutWrongTimes(capture: Capture): Capture {
  const isTimely = timelyTest(finiteTimes(capture.readings));
  const isWrong = ({ elapsedS }: Reading) => !isTimely(elapsedS);
  return capture.readings.some(isWrong)
    ? { ...capture, readings: capture.readings.filter((reading) => !isWrong(reading)) }
    : capture;
}

/** Most signal readings that the fit works on: more change nothing but the time it takes. */
const maxReadings = 3000;
/** Readings and grid points on which the shape is chosen: some forty fits on these take as long as the final one. */
const coarseReadings = 700;
const coarsePoints = 1000;
/**
 * A sweep must span this share of its middle pressure: less is one setting, unsteady or trimmed once. It shows no curve, and gusts
 * or a light-off there would pass for an end.
 */
const minSpan = 0.1;

const isSwept = ([lowest, highest]: readonly [number, number]): boolean =>
  highest - lowest > (minSpan * Math.abs(lowest + highest)) / 2;

/** Finds the drop-outs, and makes the initial estimates from the readings without them. */
function separateDropOuts(
  grid: PressureGrid,
  whole: Series,
  repeated: RepeatedLosses | undefined,
  { dropFraction, minimumSignal }: SweepSettings,
  limits: LagLimits,
): Pick<PreparedSweep, 'dropOuts' | 'initial'> & { steadySignal: Series } {
  const estimatesOf = (some: Series) => initialEstimates(grid, averageBlocks(some, maxReadings), limits);
  const lagOf = (some: Series) => estimatesOf(some).lagS;
  const lit = repeated && withoutLosses(whole, repeated, lagOf(whole));
  const signal = lit && lit.time.length >= minPairs ? lit : whole;
  const rough = estimatesOf(signal);
  const required = requiredSignal(rough.plateau, dropFraction, minimumSignal);
  const dropOuts = findDropOuts(grid, signal, rough, required.value, roughNoise(signal));
  if (dropOuts.length === 0) return { dropOuts, steadySignal: signal, initial: rough };
  const steadySignal = withoutDropOuts(signal, dropOuts);
  if (steadySignal.time.length < minPairs) return { dropOuts: [], steadySignal: signal, initial: rough };
  return { dropOuts, steadySignal, initial: estimatesOf(steadySignal) };
}

/**
 * Collects and cleans the readings of a sweep, puts the pressure on an even grid and makes the initial estimates.
 *
 * @param setup  limits and accuracies, in any unit
 * Fails with `no-pressure`, `no-signal`, `signal-without-gas`, `too-few-pairs`, `one-pressure`, `clocks-apart`.
 */
export function prepareSweep(capture: Capture, setup: Setup): Outcome<PreparedSweep> {
  const collected = collectSweep(capture);
  if (!collected.ok) return collected;
  const sweep = collected.value;
  const tracked = trackCapture(captureWithoutWrongTimes(capture), setup);
  const settings = settingsFor(setup, sweep, tracked.fanOnly);
  const cleaned = clean(sweep.pressure, sweep.signal);
  const grid = pressureGrid(cleaned.pressure, typicalStep(cleaned.signal));

  // Without marks the sweep is the whole capture.
  const isWhole = sweep.wholePressure === sweep.pressure;
  const whole = isWhole ? cleaned.pressure : removeSpikes(withoutWrongTimes(sweep.wholePressure));
  const wholeGrid = isWhole ? grid : pressureGrid(whole, typicalStep(cleaned.signal));
  const enteredFanOnly = tracked.fanOnly?.basis === 'entered' ? settings.fanOnly : undefined;
  const burning = whileBurning(tracked.spans, whole, wholeGrid, cleaned.signal, enteredFanOnly);
  const known = whilePressureKnown(grid, cleaned.signal.time);
  const knownWhileBurning = burning.keep.map((keep, i) => keep & known[i]!);
  // What the tracker leaves out because of a frozen meter is what shows it.
  // A flame that is lost at rest makes the signal fall without a turn of the regulator.
  const afterLoss = lossesWithGasOn(tracked.spans).map(({ fromS, litS }) => ({
    fromS: fromS - 1,
    toS: litS + settleS,
  }));
  const burnsOn = outside(cleaned.signal.time, afterLoss);
  const mayBurn = burning.keep.map((keep, i) => (keep | burning.inTrouble[i]!) & known[i]! & burnsOn[i]!);
  const valveS = tracked.spans.filter(({ gas }) => gas === 'closing' || gas === 'opening').map(({ from_s }) => from_s);
  const frozen = findFrozen(cleaned.pressure, cleaned.signal, mayBurn, valveS);
  // What glows all the time is no flame that goes on without gas.
  const noPressure = tracked.spans.some(burns) ? withoutPressure(cleaned.pressure, cleaned.signal) : [];
  const { time } = cleaned.signal;
  const attached = outside(time, noPressure, longestLag);
  const moving = whileMoving(cleaned.signal, frozen).map((keep, i) => keep & attached[i]!);
  const seen = outside(time, unseenLosses(tracked.spans, cleaned.signal, frozen.signal));
  const usableSignal = keepOnly(
    cleaned.signal,
    knownWhileBurning.map((keep, i) => keep & moving[i]! & seen[i]!),
  );
  // Where the signal is none of a flame it is left out, and that is the reason.
  const isWithoutFlame =
    !tracked.spans.some(burns) && tracked.spans.some(({ gas, flame }) => gas === 'shut' && flame === 'unknown');
  const refuse = (reason: Fault) => fail(isWithoutFlame ? fault('signal-without-gas') : reason);
  if (usableSignal.time.length < minPairs)
    return refuse(fault('too-few-pairs', { pairs: usableSignal.time.length, least: minPairs }));
  const repeatedLosses = findRepeatedLosses(tracked.spans, grid, testedPressures(grid, usableSignal, 0));
  const { dropOuts, steadySignal, initial } = separateDropOuts(
    grid,
    usableSignal,
    repeatedLosses,
    settings,
    lagLimits(tracked.spans, sweep.wholePressure, sweep.wholeSignal),
  );
  const signal = averageBlocks(steadySignal, maxReadings);

  const [lowest, highest] = testedPressures(grid, signal, 0);
  const scale = { middle: (lowest + highest) / 2, half: (highest - lowest) / 2 };
  if (!isSwept([lowest, highest]))
    return refuse(fault('one-pressure', { pressure: formatPressure(scale.middle, sweep.pressureUnit) }));
  // What was recorded here has one clock. The dark of a flame that stayed out until gas was shut follows no pressure at any lag; one that
  // seems to come back by itself may be what clocks make that are apart.
  const lastBurnedS = tracked.spans.findLast(burns)?.to_s ?? Infinity;
  const unlit = lossesWithGasOn(tracked.spans)
    .filter(({ isForGood }) => isForGood)
    .map(({ fromS, litS }) => ({ fromS, toS: litS }));
  const lit = keepOnly(
    usableSignal,
    outside(usableSignal.time, [...unlit, { fromS: lastBurnedS, toS: Infinity }], longestLag),
  );
  // A flame that burned at one pressure only shows no clock: a signal that comes as gas does would do at any lag.
  const showsClock = capture.lines.length === 0 && isSwept(testedPressures(grid, lit, 0));
  const apartS = showsClock ? clocksApart(grid, lit) : undefined;
  if (apartS !== undefined && !shareOneClock(tracked.spans, capture.readings, apartS, trialSecondsOf(setup)))
    return fail(fault('clocks-apart', { seconds: apartS }));

  const sweeps = sweepsOf(capture.marks);
  const discarded = sweeps.filter(({ isVoid }) => isVoid);
  const swept = { fromS: usableSignal.time[0]!, toS: usableSignal.time.at(-1)! };
  const coarseSignal = subsample(signal, coarseReadings);
  return ok({
    sweep,
    settings,
    tracked,
    sweepStartsS: sweeps.filter(({ isVoid }) => !isVoid).map(({ fromS }) => fromS),
    discarded,
    lossesOutside: lossesOutsideSweep(tracked.spans, wholeGrid, swept, discarded),
    lightOffsS: lightOffMoments(capture),
    showsClock,
    unclearS: burning.unclear,
    unclearPressures: pressuresWhileUnclear(grid, burning.unclear, usableSignal.time),
    frozen: allFrozen(frozen, tracked.frozen, capture.readings, sweep),
    noPressure,
    leftOut: {
      ...cleaned.leftOut,
      flagged: sweep.counts.flagged,
      ...burning.leftOut,
      unlit:
        burning.leftOut.unlit +
        seen.filter((keep, i) => keep === 0 && (knownWhileBurning[i]! & moving[i]!) === 1).length,
      dropOut: usableSignal.time.length - steadySignal.time.length,
      meterTrouble:
        burning.leftOut.meterTrouble + moving.filter((keep, i) => keep === 0 && knownWhileBurning[i] === 1).length,
      pressureUnknown: known.filter((keep, i) => keep === 0 && burning.keep[i] === 1).length,
    },
    ...(cleaned.selfCheck && { selfCheck: cleaned.selfCheck }),
    ...(cleaned.shade && { shade: cleaned.shade }),
    pressure: cleaned.pressure,
    grid,
    spikedSignal: cleaned.spikedSignal,
    usableSignal,
    dropOuts,
    repeatedLosses,
    signal,
    coarse: { grid: pressureGrid(cleaned.pressure, typicalStep(coarseSignal), coarsePoints), signal: coarseSignal },
    scale,
    initial,
    darkStretches: findDarkStretches(signal, initial, roughNoise(signal), tracked.spans),
    stepResponse: stepResponseOf(cleaned.pressure),
  });
}
