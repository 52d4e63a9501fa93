import type { Capture } from '../../../shared/model/capture.ts';
import { createRandom, type Random } from '../../../shared/numerics/random.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { burning, type TrueCurve } from './burner.ts';
import { type Corner, type RegulatorMotion, regulatorPath } from './regulator-path.ts';

export type MeterRole = 'pilot_pressure' | 'flame_signal';

/** How the sweep was made and measured. Pressures in inH2O, signals in V, times in s. */
export interface SweepFacts extends RegulatorMotion {
  curve: TrueCurve;
  deadS: number;
  lagS: number;
  manometerLagS: number;
  /** Deviation of the signal meter's white noise, and of the flicker half way down a shoulder. */
  white: number;
  flicker: number;
  manometerHz: number;
  signalHz: number;
  /** A meter changes to another rate after a share of the sweep. */
  rateChanges?: { role: MeterRole; afterShare: number; hz: number }[];
  /** Last digit of each meter. */
  digits: { pressure: number; signal: number };
  /** Pressure above `lossBelow` at which a lost flame burns again. */
  relight: number;
  selfCheck?: { periodS: number; widthS: number };
}

/** When the flame was out, seconds; Infinity when it did not come back. */
export interface Outage {
  lostS: number;
  relitS: number;
}

/** The readings of a simulated sweep, its length, and when the flame was out. */
export interface Simulated {
  readings: Reading[];
  durationS: number;
  outages: Outage[];
}

/** Step of the simulation, seconds. */
export const stepS = 0.02;
/** Seconds over which flicker stays correlated, and deviation of the manometer's own noise. */
export const flickerS = 0.4;
export const manometerNoise = 0.003;

/**
 * Simulates one sweep of a burner: motion of the regulator, manometer lag, dead time and first-order lag of the signal, white
 * noise and flicker (correlated, largest half way down a shoulder), two meters of their own rates, last digits.
 */
export function simulateSweep(facts: SweepFacts, seed: number): Simulated {
  const random = createRandom(seed);
  const path = regulatorPath(facts, random);
  const durationS = path.at(-1)![0];
  const { shown, signal, outages } = simulateLevels(facts, path, random);
  const readings = readMeters(facts, shown, signal, durationS, random);
  return { readings, durationS, outages };
}

/** Pressure at the manometer and signal at the meter without the meters' own noise, step by step. */
function simulateLevels(facts: SweepFacts, path: Corner[], random: Random) {
  const { curve } = facts;
  const n = Math.floor(path.at(-1)![0] / stepS);
  const shown = new Float64Array(n);
  const light = new Float64Array(n);
  const signal = new Float64Array(n);
  const outages: Outage[] = [];
  let at = 0;
  let flame = true;
  let flicker = 0;
  const keep = Math.exp(-stepS / flickerS);
  // y += gain (x - y) delays by stepS (1 - gain) / gain on average, so the gain for a wanted delay is this.
  const pressureGain = stepS / (stepS + facts.manometerLagS);
  const signalGain = stepS / (stepS + facts.lagS);
  const dead = Math.round(facts.deadS / stepS);
  const wobbleS = 5 + 4 * random.uniform();
  for (let i = 0; i < n; i += 1) {
    const t = i * stepS;
    while (path[at + 1]![0] < t) at += 1;
    const [t0, p0] = path[at]!;
    const [t1, p1] = path[at + 1]!;
    const p = p0 + ((p1 - p0) * (t - t0)) / (t1 - t0) + 0.008 * Math.sin((2 * Math.PI * t) / wobbleS);
    shown[i] = i === 0 ? p : shown[i - 1]! + pressureGain * (p - shown[i - 1]!);
    if (flame && p < curve.lossBelow) {
      flame = false;
      outages.push({ lostS: t, relitS: Infinity });
    } else if (!flame && p > curve.lossBelow + facts.relight) {
      flame = true;
      outages.at(-1)!.relitS = t;
    }
    flicker = keep * flicker + Math.sqrt(1 - keep * keep) * random.normal();
    light[i] = flame ? burning(curve, p) + flickerAt(facts, p) * flicker : curve.dark;
    const clipped = Math.min(curve.clip, light[Math.max(0, i - dead)]!);
    signal[i] = i === 0 ? clipped : signal[i - 1]! + signalGain * (clipped - signal[i - 1]!);
  }
  return { shown, signal, outages };
}

/** Deviation of the flicker at a pressure: largest half way down a shoulder. */
export function flickerAt({ curve, flicker }: SweepFacts, p: number): number {
  const share = (burning(curve, p) - curve.dark) / curve.amplitude;
  return flicker * 4 * share * (1 - share);
}

function readMeters(facts: SweepFacts, shown: Float64Array, signal: Float64Array, durationS: number, random: Random) {
  const n = shown.length;
  const readings: Reading[] = [];
  const rounded = (value: number, digit: number) => Math.round(value / digit) * digit;
  const read = (role: MeterRole, hz: number, value: (i: number) => number) => {
    const changes = (facts.rateChanges ?? []).filter((change) => change.role === role);
    const hzAt = (t: number) => changes.findLast(({ afterShare }) => t >= afterShare * durationS)?.hz ?? hz;
    for (let t = random.uniform() / hz; t < durationS - 0.1; t += 1 / hzAt(t)) {
      const timeS = Math.max(0, t + 0.005 * random.normal());
      const number = value(Math.min(n - 1, Math.round(timeS / stepS)));
      const elapsedS = Math.round(timeS * 1000) / 1000;
      readings.push({
        role,
        unit: role === 'flame_signal' ? 'V' : 'inH2O',
        elapsedS,
        value: number,
        raw: String(number),
      });
    }
  };
  read('pilot_pressure', facts.manometerHz, (i) =>
    rounded(shown[i]! + manometerNoise * random.normal(), facts.digits.pressure),
  );
  read('flame_signal', facts.signalHz, (i) => {
    const level = Math.min(facts.curve.clip, signal[i]! + facts.white * random.normal());
    return rounded(isShut(facts, i * stepS) ? 0.15 * level : level, facts.digits.signal);
  });
  return readings.sort((a, b) => a.elapsedS - b.elapsedS);
}

/** Whether the detector's shutter is closed for its self-check. */
export const isShut = ({ selfCheck }: SweepFacts, t: number): boolean =>
  selfCheck !== undefined && t % selfCheck.periodS < selfCheck.widthS;

/** A capture that holds these readings and nothing else. */
export const captureOf = (readings: Reading[], setup: Setup = {}, rest: Partial<Capture> = {}): Capture => ({
  id: 'simulated',
  meters: [],
  setup,
  readings,
  lines: [],
  marks: [],
  trials: [],
  notes: [],
  ...rest,
});
