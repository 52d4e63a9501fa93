import { burning, type TrueCurve } from '../sweep/burner.ts';
import { flickerAt, flickerS, type Outage, stepS, type SweepFacts } from '../sweep/simulate.ts';

/**
 * Signal that the meter should show of a curve at given times, everything else being known: pressures, dead time, lag,
 * how the amplifier clips flicker and noise.
 */
export function knownSignal(
  facts: SweepFacts,
  pressure: Float64Array,
  times: Float64Array,
  curve: TrueCurve,
  outages: Outage[],
  into: Float64Array,
): void {
  const n = pressure.length;
  const light = new Float64Array(n);
  for (let i = 0; i < n; i += 1)
    light[i] = clippedMean(burning(curve, pressure[i]!), curve.clip, flickerAt(facts, pressure[i]!));
  for (const { lostS, relitS } of outages) darken(light, curve.dark, lostS, relitS);
  lagged(facts, light);
  for (let k = 0; k < times.length; k += 1) into[k] = clippedMean(valueAt(light, times[k]!), curve.clip, facts.white);
}

/** Standard deviation of each reading about what it should show: white noise, last digit, and flicker behind the lag. */
export function knownNoise(facts: SweepFacts, pressure: Float64Array, times: Float64Array): Float64Array {
  const size = pressure.map((p) => flickerAt(facts, p));
  lagged(facts, size);
  // Variance of an exponentially correlated noise behind a first-order lag: T / (T + lag) of what went in.
  const passes = flickerS / (flickerS + facts.lagS);
  const own = facts.white ** 2 + facts.digits.signal ** 2 / 12;
  return times.map((t) => Math.sqrt(own + passes * valueAt(size, t) ** 2));
}

/** Dark between two times, in place; a step half inside is half dark, so that the times can be fitted. */
function darken(light: Float64Array, dark: number, lostS: number, relitS: number): void {
  const last = Math.min(light.length - 1, Math.ceil(relitS / stepS));
  for (let i = Math.max(0, Math.floor(lostS / stepS)); i <= last; i += 1) {
    const at = (i - 0.5) * stepS;
    const part = Math.min(1, Math.max(0, (Math.min(relitS, at + stepS) - Math.max(lostS, at)) / stepS));
    light[i]! += part * (dark - light[i]!);
  }
}

/** Dead time and first-order lag, in place, exactly as they act in the simulation. */
function lagged({ deadS, lagS }: SweepFacts, values: Float64Array): void {
  const dead = Math.round(deadS / stepS);
  values.copyWithin(dead, 0, values.length - dead);
  values.fill(values[0]!, 0, dead);
  const gain = stepS / (stepS + lagS);
  for (let i = 1; i < values.length; i += 1) values[i] = values[i - 1]! + gain * (values[i]! - values[i - 1]!);
}

function valueAt(values: Float64Array, t: number): number {
  const place = Math.min(values.length - 1.000001, Math.max(0, t / stepS));
  const i = Math.floor(place);
  return values[i]! + (place - i) * (values[i + 1]! - values[i]!);
}

/**
 * Mean of min(top, level + noise) for normal noise: level F(z) + top (1 - F(z)) - noise f(z), z = (top - level) / noise.
 * Far below the top it is the level. F by Abramowitz and Stegun 26.2.17 (error below 8e-8).
 */
function clippedMean(level: number, top: number, noise: number): number {
  const z = (top - level) / noise;
  if (!(z < 6)) return level;
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const tail =
    density * (t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429)))));
  const below = z > 0 ? 1 - tail : tail;
  return level * below + top * (1 - below) - noise * density;
}
