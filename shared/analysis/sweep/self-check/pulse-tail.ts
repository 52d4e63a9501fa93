import { median, quantileSorted } from '../../../numerics/descriptive.ts';
import { log } from '../../../numerics/elementary.ts';
import { roughNoise } from '../series/meter-noise.ts';
import { type Series, typicalStep } from '../series/series.ts';

/** Seconds before and after the moment at which a pulse is expected in which the signal is lower than between pulses. */
export interface PulsePhases {
  beforeS: number;
  afterS: number;
}

/** Readings of one phase are compared by their median: of fewer it is any of them. */
const minReadings = 3;
/** Phases of a period, at most. */
const mostPhases = 60;
/** A phase is still in the pulse where its signal is lower than between pulses by more than this share of it, beyond what noise explains. */
const seenShare = 0.01;
/** Where the tail is no more seen it goes on falling by its time constant: left out until it is less than this share. */
const tailShare = 0.0005;
/** Of a period this share is kept in any case: behind a lag as long as the period the tail never ends. */
const leastKept = 0.25;

/**
 * How long a pulse and its tail darken the signal: all periods are laid over each other, each reading as a share of the level around it, and
 * the medians of the phases show the shape of one pulse, whatever the detector's lag (signal averaging over a known period).
 *
 * @param expected  when pulses begin, seconds
 * @param levelAt   level of the signal around a moment, in its unit
 */
export function pulsePhases(
  signal: Series,
  expected: readonly number[],
  periodS: number,
  levelAt: (t: number) => number,
  isOnPlateau: (t: number) => boolean,
): PulsePhases {
  const { time, value } = signal;
  const step = typicalStep(signal);
  // A pulse is seen up to one reading late, and behind a lag of 2 s the signal takes half a second to fall by a fifth.
  const beforeS = step + 0.5;
  const count = Math.max(4, Math.min(mostPhases, Math.floor(periodS / Math.max(0.1, step / 3))));
  const phases: number[][] = Array.from({ length: count }, () => []);
  const start = (expected[0] ?? 0) - beforeS;
  for (let i = 0; i < time.length; i += 1) {
    if (!isOnPlateau(time[i]!)) continue;
    const since = (((time[i]! - start) % periodS) + periodS) % periodS;
    phases[Math.min(count - 1, Math.floor((since / periodS) * count))]!.push(value[i]! / levelAt(time[i]!));
  }
  const shares = phases.map((list) => (list.length < minReadings ? Number.NaN : median(Float64Array.from(list))));
  const known = Float64Array.from(shares.filter(Number.isFinite)).sort();
  const most = Math.floor((1 - leastKept) * count);
  const afterOf = (phase: number) => ((phase + 1) / count) * periodS - beforeS;
  if (known.length < count / 2) return { beforeS, afterS: afterOf(most - 1) };
  const top = quantileSorted(known, 0.9);
  const noise = roughNoise(signal) / levelAt(time[time.length >> 1]!);
  const isDark = (phase: number) =>
    shares[phase]! < top - Math.max(seenShare, (2 * noise) / Math.sqrt(phases[phase]!.length));
  let last = Math.max(0, Math.ceil((beforeS / periodS) * count));
  // From the pulse on as long as it is dark: what is low later in the period is noise.
  while (last + 1 < most && isDark(last + 1)) last += 1;
  const tauS = timeConstant(shares.map((share) => 1 - share / top).slice(0, last + 1), periodS / count);
  const tailS = tauS * log(Math.max(1, (1 - (shares[last] ?? top) / top) / tailShare));
  return { beforeS, afterS: Math.min(afterOf(most - 1), afterOf(last) + tailS) };
}

/**
 * Time constant of a tail, seconds, from what is missing phase after phase: from the deepest one on it is an exponential, whose sum is its
 * height times its time constant.
 */
function timeConstant(missing: readonly number[], phaseS: number): number {
  const tail = missing.map((each) => (Number.isFinite(each) ? Math.max(0, each) : 0));
  const deepest = tail.indexOf(Math.max(...tail));
  const [height, end] = [tail[deepest]!, tail.at(-1)!];
  const area = tail.slice(deepest).reduce((sum, each) => sum + each, 0) * phaseS;
  return height > end ? area / height / (1 - end / height) : 0;
}
