import type { IntervalStatus } from '../../shared/model/analysis-result.ts';
import type { Capture } from '../../shared/model/capture.ts';
import { createRandom, type Random } from '../../shared/model/random.ts';
import type { Reading } from '../../shared/model/reading.ts';
import type { Setup } from '../../shared/model/setup.ts';

/** The steady signal: two logistic shoulders, clipped at the amplifier's top, dark below the pressure of flame loss. */
export interface TrueCurve {
  dark: number;
  amplitude: number;
  low: number;
  lowWidth: number;
  high: number;
  highWidth: number;
  clip: number;
  lossBelow: number;
}

/** How the sweep was made and seen. Pressures in inH2O, signals in V, times in s. */
export interface SweepFacts {
  curve: TrueCurve;
  tested: [number, number];
  /** inH2O a second of a steady hand; with `stairs` the time goes into dwells instead. */
  speed: number;
  stairs: boolean;
  deadS: number;
  lagS: number;
  manometerLagS: number;
  white: number;
  flicker: number;
  manometerHz: number;
  signalHz: number;
  /** Last digit of each meter. */
  digits: { pressure: number; signal: number };
  /** Pressure above `lossBelow` at which a lost flame burns again. */
  relight: number;
  selfCheck?: { periodS: number; widthS: number };
}

export interface SweepTruth {
  status: IntervalStatus;
  low?: number;
  high?: number;
  plateau: number;
  lagS: number;
}

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));
const burning = (c: TrueCurve, p: number): number =>
  c.dark + c.amplitude * logistic((p - c.low) / c.lowWidth) * logistic((c.high - p) / c.highWidth);
const steady = (c: TrueCurve, p: number): number => (p < c.lossBelow ? c.dark : Math.min(c.clip, burning(c, p)));

/** Where the hand wants the pressure to be: from the middle down, up through everything, and back to the middle. */
function handPath({ tested, speed, stairs }: SweepFacts, random: Random): [number, number][] {
  const middle = (tested[0] + tested[1]) / 2;
  const path: [number, number][] = [
    [0, middle],
    [4, middle],
  ];
  let t = 4;
  let from = middle;
  for (const to of [tested[0], tested[1], middle]) {
    if (stairs) {
      const steps = Math.max(1, Math.round(Math.abs(to - from) / 0.12));
      for (let k = 1; k <= steps; k += 1) {
        const level = from + ((to - from) * k) / steps;
        path.push([t + 0.4, level]);
        t += 2.5 + 2.5 * random.uniform();
        path.push([t, level]);
      }
    } else {
      t += Math.abs(to - from) / speed;
      path.push([t, to]);
      // A hand rests at the turning points, longer than any meter lags.
      t += 4;
      path.push([t, to]);
    }
    from = to;
  }
  return path;
}

const stepS = 0.02;

/**
 * One sweep of the primer's model: hand, manometer lag, dead time and first-order lag of the signal, white noise and
 * flicker (correlated over 0.4 s, largest half way down a shoulder), two meters of their own rates, last digits.
 */
export function simulateSweep(facts: SweepFacts, seed: number): { readings: Reading[]; durationS: number } {
  const random = createRandom(seed);
  const path = handPath(facts, random);
  const durationS = path.at(-1)![0];
  const n = Math.floor(durationS / stepS);
  const shown = new Float64Array(n);
  const light = new Float64Array(n);
  const signal = new Float64Array(n);
  let at = 0;
  let flame = true;
  let flicker = 0;
  const keep = Math.exp(-stepS / 0.4);
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
    if (flame && p < facts.curve.lossBelow) flame = false;
    else if (!flame && p > facts.curve.lossBelow + facts.relight) flame = true;
    const share = (burning(facts.curve, p) - facts.curve.dark) / facts.curve.amplitude;
    flicker = keep * flicker + Math.sqrt(1 - keep * keep) * random.normal();
    light[i] = flame ? burning(facts.curve, p) + facts.flicker * 4 * share * (1 - share) * flicker : facts.curve.dark;
    const seen = Math.min(facts.curve.clip, light[Math.max(0, i - dead)]!);
    signal[i] = i === 0 ? seen : signal[i - 1]! + signalGain * (seen - signal[i - 1]!);
  }
  const readings: Reading[] = [];
  const rounded = (value: number, digit: number) => Math.round(value / digit) * digit;
  const read = (role: 'pilot_pressure' | 'flame_signal', hz: number, value: (i: number) => number) => {
    for (let t = random.uniform() / hz; t < durationS - 0.1; t += 1 / hz) {
      const seen = Math.max(0, t + 0.005 * random.normal());
      const number = value(Math.min(n - 1, Math.round(seen / stepS)));
      const elapsedS = Math.round(seen * 1000) / 1000;
      readings.push({
        role,
        unit: role === 'flame_signal' ? 'V' : 'inH2O',
        elapsedS,
        value: number,
        raw: String(number),
      });
    }
  };
  read('pilot_pressure', facts.manometerHz, (i) => rounded(shown[i]! + 0.003 * random.normal(), facts.digits.pressure));
  read('flame_signal', facts.signalHz, (i) => {
    const check = facts.selfCheck;
    const shut = check && (i * stepS) % check.periodS < check.widthS;
    const seen = Math.min(facts.curve.clip, signal[i]! + facts.white * random.normal());
    return rounded(shut ? 0.15 * seen : seen, facts.digits.signal);
  });
  readings.sort((a, b) => a.elapsedS - b.elapsedS);
  return { readings, durationS };
}

/** The answer that the definitions give for the true curve. */
export function truthOf({ curve, tested, ...facts }: SweepFacts, setup: Setup): SweepTruth {
  const steps = 20_000;
  const at = (i: number) => tested[0] + ((tested[1] - tested[0]) * i) / steps;
  let top = 0;
  for (let i = 1; i <= steps; i += 1) if (steady(curve, at(i)) > steady(curve, at(top))) top = i;
  const plateau = steady(curve, at(top));
  const required = Math.max(setup.minimumSignal?.value ?? 0, (1 - (setup.signalDropFraction ?? 0.1)) * plateau);
  const lagS = facts.deadS + facts.lagS - facts.manometerLagS;
  if (plateau < required) return { status: 'none', plateau, lagS };
  let low = top;
  while (low > 0 && steady(curve, at(low - 1)) >= required) low -= 1;
  let high = top;
  while (high < steps && steady(curve, at(high + 1)) >= required) high += 1;
  const status = low > 0 ? (high < steps ? 'bounded' : 'open-high') : high < steps ? 'open-low' : 'open-both';
  return { status, plateau, lagS, ...(low > 0 && { low: at(low) }), ...(high < steps && { high: at(high) }) };
}

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

export const kinds = [
  'two shoulders',
  'stairs',
  'low end only',
  'high end only',
  'neither end',
  'clipped',
  'flame lost',
  'noisy',
  'fast',
  'slow',
  'minimum signal',
  'self-check',
  'coarse digits',
] as const;
export type Kind = (typeof kinds)[number];

/** A sweep of one kind: burner, meters and hand drawn anew from the seed. */
export function drawSweep(kind: Kind, seed: number): { capture: Capture; truth: SweepTruth; facts: SweepFacts } {
  const random = createRandom((seed * 7919 + kinds.indexOf(kind) * 104_729 + 11) >>> 0);
  const between = (a: number, b: number) => a + (b - a) * random.uniform();
  const curve: TrueCurve = {
    dark: between(0, 0.05),
    amplitude: between(3.6, 5),
    low: between(0.9, 1.5),
    lowWidth: between(0.04, 0.13),
    high: between(3.7, 4.6),
    highWidth: between(0.05, 0.18),
    clip: 10,
    lossBelow: -1,
  };
  const facts: SweepFacts = {
    curve,
    tested: [curve.low - 0.45, curve.high + 0.6],
    speed: between(0.035, 0.08),
    stairs: kind === 'stairs',
    deadS: Math.round(between(0.05, 0.5) / stepS) * stepS,
    lagS: between(0.3, 1.2),
    manometerLagS: between(0.05, 0.2),
    white: between(0.005, 0.02),
    flicker: between(0.03, 0.12),
    manometerHz: [5, 10][Math.floor(2 * random.uniform())]!,
    signalHz: [2, 4, 5, 10][Math.floor(4 * random.uniform())]!,
    digits: { pressure: 0.001, signal: 0.001 },
    relight: 0.03,
  };
  const setup: Setup = { signalDropFraction: 0.1 };
  if (kind === 'low end only') facts.tested = [facts.tested[0], between(2.8, 3.1)];
  if (kind === 'high end only') facts.tested = [between(2, 2.3), facts.tested[1]];
  if (kind === 'neither end') facts.tested = [between(2, 2.2), between(2.8, 3.1)];
  if (kind === 'clipped') curve.clip = curve.amplitude * between(0.7, 0.9);
  if (kind === 'flame lost') curve.lossBelow = curve.low + between(0.8, 3.4) * curve.lowWidth;
  if (kind === 'noisy') Object.assign(facts, { white: between(0.04, 0.08), flicker: between(0.2, 0.35) });
  if (kind === 'fast') facts.speed = between(0.12, 0.2);
  if (kind === 'slow') facts.speed = between(0.015, 0.02);
  if (kind === 'minimum signal') setup.minimumSignal = { value: 1.25, unit: 'V' };
  if (kind === 'minimum signal') setup.signalDropFraction = 0.9;
  if (kind === 'self-check') facts.selfCheck = { periodS: between(8, 12), widthS: 0.5 };
  if (kind === 'self-check') facts.signalHz = [5, 10][Math.floor(2 * random.uniform())]!;
  if (kind === 'coarse digits') facts.digits = { pressure: 0.01, signal: 0.05 };
  const { readings } = simulateSweep(facts, (seed * 31 + kinds.indexOf(kind)) >>> 0);
  return { capture: captureOf(readings, setup), truth: truthOf(facts, setup), facts };
}
