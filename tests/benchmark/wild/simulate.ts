import type { Reading } from '../../../shared/model/reading.ts';
import { type Draws, type Family, steadySignal } from './families.ts';
import { stepS } from './hand.ts';

/** A burner and its meters. Pressures in inH2O, signals in V, times in s. */
export interface Facts {
  family: Family;
  /** Dark, height, and the parameters of the family. */
  x: number[];
  /** Dead time and two first-order lags of detector and signal meter (the second may be 0), lag of the manometer. */
  deadS: number;
  lagS: number;
  secondLagS: number;
  manometerS: number;
  /** The manometer shows the mean over the last so many seconds. */
  averageS?: number;
  /** Deviations: white noise of the signal, flicker half way down a shoulder, white noise of the manometer. */
  white: number;
  flicker: number;
  manometerNoise: number;
  pressureHz: number;
  signalHz: number;
  pressureDigit: number;
  signalDigit: number;
  /** The signal goes no higher (or no lower): in the amplifier, before its lag, or in the meter, which may show OL instead. */
  top?: { level: number; at: 'amplifier' | 'meter' | 'overload' };
  bottom?: number;
  /** The flame is out between two moments; with `shut` the gas as well. */
  outs: { fromS: number; toS: number; shut: boolean }[];
  shutter?: { periodS: number; shutS: number };
  /** Sensitivity of the detector over time. */
  gainAt?: (seconds: number) => number;
}

/** Seconds over which flicker stays correlated, common practice. */
export const flickerS = 0.4;
const fanOnly = 0.2;

/** The steady signal that the meter shows at a pressure. */
export const shownSteady =
  ({ family, x, top, bottom = -Infinity }: Facts) =>
  (pressure: number): number =>
    Math.max(bottom, Math.min(top?.level ?? Infinity, steadySignal(family, x, pressure)));

/** Deviation of the flicker at a pressure, before the lag: largest half way down a shoulder. */
export function flickerAt({ family, x, flicker }: Facts, pressure: number): number {
  const share = Math.min(1, Math.max(0, family.share(x.slice(2), pressure)));
  return flicker * 4 * share * (1 - share);
}

/** Signal behind dead time and lags, step by step; `levels` is changed. */
export function lag(levels: Float64Array, { deadS, lagS, secondLagS }: Facts): Float64Array {
  const dead = Math.round(deadS / stepS);
  const output = Float64Array.from(levels, (_, i) => levels[Math.max(0, i - dead)]!);
  for (const tau of [lagS, secondLagS]) {
    if (tau === 0) continue;
    const gain = 1 - Math.exp(-stepS / tau);
    for (let i = 1; i < output.length; i += 1) output[i] = output[i - 1]! + gain * (output[i]! - output[i - 1]!);
  }
  return output;
}

/** Mean of each value and the `count` - 1 before it; before the first it is taken to have stood. */
function meanOverLast(values: Float64Array, count: number): Float64Array {
  let sum = count * values[0]!;
  return values.map((value, i) => {
    sum += value - values[Math.max(0, i - count)]!;
    return sum / count;
  });
}

/** What both meters print while the regulator is turned along a path. */
export function readingsOf(facts: Facts, path: readonly number[], { random, between }: Draws): Reading[] {
  const n = path.length;
  const [shown, light] = [new Float64Array(n), new Float64Array(n)];
  const { top, bottom = -Infinity, shutter } = facts;
  const keep = Math.exp(-stepS / flickerS);
  const first = between(0, shutter?.periodS ?? 1);
  let [gas, pressure, flicker] = [path[0]!, path[0]!, 0];
  for (let i = 0; i < n; i += 1) {
    const t = i * stepS;
    const out = facts.outs.find(({ fromS, toS }) => t >= fromS && t < toS);
    // The gas line fills within a tenth of a second.
    gas += ((out?.shut && t < out.toS - 2 ? fanOnly : path[i]!) - gas) * (1 - Math.exp(-stepS / 0.1));
    pressure += (gas - pressure) * (1 - Math.exp(-stepS / facts.manometerS));
    shown[i] = pressure;
    flicker = keep * flicker + Math.sqrt(1 - keep * keep) * random.normal();
    const isShut = shutter !== undefined && t >= first && (t - first) % shutter.periodS < shutter.shutS;
    const burning = steadySignal(facts.family, facts.x, gas) + flickerAt(facts, gas) * flicker;
    const level = out || isShut ? facts.x[0]! : burning * (facts.gainAt?.(t) ?? 1);
    light[i] = top?.at === 'amplifier' ? Math.min(top.level, level) : level;
  }
  const signal = lag(light, facts);
  const gauge = facts.averageS === undefined ? shown : meanOverLast(shown, Math.round(facts.averageS / stepS));
  const readings: Reading[] = [];
  const read = (role: Reading['role'], hz: number, digit: number, value: (i: number) => number) => {
    for (let t = random.uniform() / hz; t < n * stepS; t += (0.9 + 0.2 * random.uniform()) / hz) {
      const number = Math.round(value(Math.min(n - 1, Math.floor(t / stepS))) / digit) * digit;
      const common = { role, elapsedS: Math.round(t * 1000) / 1000 };
      const unit = role === 'flame_signal' ? 'V' : 'inH2O';
      if (role === 'flame_signal' && top?.at === 'overload' && number >= top.level)
        readings.push({ ...common, unit, value: Number.NaN, raw: 'OL', flag: 'overload' });
      else readings.push({ ...common, unit, value: number, raw: String(number) });
    }
  };
  const cut = (value: number) =>
    Math.max(bottom, top?.at === 'meter' || top?.at === 'amplifier' ? Math.min(top.level, value) : value);
  read(
    'pilot_pressure',
    facts.pressureHz,
    facts.pressureDigit,
    (i) => gauge[i]! + facts.manometerNoise * random.normal(),
  );
  read('flame_signal', facts.signalHz, facts.signalDigit, (i) => cut(signal[i]! + facts.white * random.normal()));
  return readings.sort((a, b) => a.elapsedS - b.elapsedS);
}
