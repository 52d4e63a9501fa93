import type { Reading } from '../../../../shared/model/reading.ts';
import { flickerAt, gustMost } from '../burner/detector.ts';
import { shareAt } from '../burner/curves.ts';
import { stepS } from '../burner/facts.ts';
import { type Simulated, indexOf } from '../simulated.ts';
import type { TrueLoss } from '../types.ts';
import { logLikelihoods, type SignalModel } from './log-likelihood.ts';

/** Seconds between the moments that are tried for the loss. */
const triedEveryS = 0.1;

/**
 * What the logarithm of the likelihood ratio has to reach for one false alarm in `meanS` of steady burning. The mean run
 * length of Page's test for a shift of d deviations is close to 2 exp(h + 1.166 d) / d^2 readings for a level h that is not
 * small (Siegmund 1985, Sequential Analysis, 10.17; d = 1: within 5 % of the reference values for k = 1/2, see the test).
 * d^2 exp(-1.166 d) / 2 is at most 0.2, whatever the shift: the level for the worst one.
 */
export const alarmAt = (hz: number, meanS = 10 * 3600): number => Math.log(0.2 * hz * meanS);

/**
 * First reading at which the best of the alternatives is so much likelier than the best of what is harmless; undefined
 * when none is. All: log-likelihoods up to each reading (generalized likelihood ratio).
 */
export function firstAlarm(harmless: Float64Array[], alternatives: Float64Array[], level: number): number | undefined {
  const best = (of: Float64Array[], k: number) => of.reduce((most, each) => Math.max(most, each[k]!), -Infinity);
  const count = alternatives[0]?.length ?? 0;
  for (let k = 0; k < count; k += 1) if (best(alternatives, k) - best(harmless, k) >= level) return k;
  return undefined;
}

/**
 * When a sequential detector that knows curve, pressure, lag and noise exactly, but not whether and when the flame is lost,
 * could announce the loss at one false alarm in ten hours of steady burning: the time of a reading, s. It must tell the
 * loss from a shutter's pulse of the greatest length and from the deepest gust too. Undefined when no reading before the
 * flame came back, or the gas was shut, suffices.
 * @param pulseS  greatest length of a pulse, seconds; undefined: it is told that the detector has no shutter
 */
export function earliestDetection(
  simulated: Simulated,
  loss: TrueLoss,
  readings: Reading[],
  pulseS: number | undefined,
  level = alarmAt(simulated.instruments.signal.hz),
): number | undefined {
  const { trace, facts, n } = simulated;
  const { deadS, gustEveryS } = facts.detector;
  const lostAt = indexOf(loss.at_s);
  let from = lostAt - 1;
  while (from > 0 && trace.flame[from - 1] && lostAt - from < indexOf(20)) from -= 1;
  const end = Math.min(n, indexOf(loss.relitAt_s ?? loss.gasShutAt_s ?? Infinity), lostAt + indexOf(60));
  const model = modelOf(simulated, from, end, readings);
  const dead = indexOf(deadS);
  // What was seen before the loss is known: pulses and gusts that there were.
  const before = (i: number) => (trace.shutter[i] ? 0 : 1 - trace.gust[i]!);
  const share = (after: (i: number) => number) =>
    logLikelihoods(model, (k) => {
      const i = from + k - dead;
      return i < lostAt ? before(Math.max(0, i)) * after(i) : after(i);
    });
  const during = (start: number, seconds: number, left: number) =>
    share((i) => (i >= start && i < start + indexOf(seconds) ? left : 1));
  const harmless = [share(() => 1)];
  for (let offsetS = -0.4; offsetS < 0.85; offsetS += 0.1) {
    const start = lostAt + Math.round(offsetS / stepS);
    if (pulseS !== undefined) harmless.push(during(start, pulseS, 0));
    if (gustEveryS < Infinity) harmless.push(during(start, gustMost.seconds, 1 - gustMost.depth));
  }
  const alternatives: Float64Array[] = [];
  for (let at = lostAt - indexOf(1); at < end; at += indexOf(triedEveryS))
    alternatives.push(share((i) => (i < at ? 1 : 0)));
  // An alarm before the signal can show the loss, a dead time later, would be a false one.
  const first = model.readings.findIndex(({ step }) => from + step > lostAt + dead);
  if (first < 0) return undefined;
  const later = (sums: Float64Array) => sums.subarray(first);
  const alarm = firstAlarm(harmless.map(later), alternatives.map(later), level);
  return alarm === undefined ? undefined : model.readings[first + alarm]!.elapsedS;
}

/** Light that would be seen from step `from` to `end`, dead time included, and the readings a working meter gave. */
function modelOf({ trace, facts, instruments, faults }: Simulated, from: number, end: number, readings: Reading[]) {
  const { detector, curve } = facts;
  const { signal, amplitude } = instruments;
  const dead = indexOf(detector.deadS);
  const length = end - from;
  const light = new Float64Array(length);
  const flicker = new Float64Array(length);
  for (let k = 0; k < length; k += 1) {
    const i = Math.max(0, from + k - dead);
    const share = shareAt(curve, trace.pressure[i]!);
    light[k] = trace.steady[i]! - detector.dark;
    flicker[k] = flickerAt(facts, share);
  }
  const failed = faults.filter(({ meter, kind }) => meter === 'flame_signal' && kind !== 'zero-shift');
  const good = readings.flatMap(({ role, elapsedS, value, flag }) => {
    const step = indexOf(elapsedS) - from;
    const works = !flag && !failed.some(({ from_s, to_s }) => elapsedS >= from_s && elapsedS < to_s);
    if (role !== 'flame_signal' || step < 0 || step >= length || !works) return [];
    const spark = trace.spark[Math.max(0, from + step - dead)] ? detector.sparkAdds : 0;
    return [{ step, elapsedS, value: value / amplitude - detector.dark - spark }];
  });
  return {
    stepS,
    light,
    flicker,
    flickerS: detector.flickerS,
    lagS: detector.lagS,
    noise: Math.hypot(signal.noise, signal.digit / Math.sqrt(12)),
    clip: detector.clip - detector.dark - signal.digit,
    start: trace.signal[from]! - detector.dark,
    readings: good,
  } satisfies SignalModel;
}
