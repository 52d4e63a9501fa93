import type { Reading } from '../../../shared/model/reading.ts';
import type { Random } from '../../../shared/numerics/random.ts';
import { type Course, stepS } from './pilot.ts';

/** The two meters. Signals in V, pressures in inH2O, times in s. */
export interface MeterFacts {
  pressureHz: number;
  signalHz: number;
  pressureDigit: number;
  signalDigit: number;
  /** Deviation of the signal's noise on the plateau and on a shoulder, and how long it stays correlated; 0: white. */
  noise: number;
  flicker: number;
  correlatedS: number;
  /** Dead time and first-order lag of the detector, first-order lag of the manometer. */
  deadS: number;
  lagS: number;
  manometerS: number;
  /** A shutter that closes for `shutS` every `periodS`, within the detector: before its lag (`behind` false) or behind it. */
  shutter?: { periodS: number; shutS: number; firstS: number; beforeLag: boolean };
}

/** What the meters print of a course, and the signal without noise step by step: `steady(p)` is that of a flame that burns, `dark` that of none. */
export function readMeters(
  course: Course,
  steady: (pressure: number) => number,
  { dark, top }: { dark: number; top: number },
  facts: MeterFacts,
  random: Random,
): { readings: Reading[]; light: Float64Array } {
  const n = course.pressure.length;
  const { shutter } = facts;
  const isShut = (t: number) =>
    shutter !== undefined && t >= shutter.firstS && (t - shutter.firstS) % shutter.periodS < shutter.shutS;
  const after = (tau: number) => 1 - Math.exp(-stepS / tau);
  const dead = Math.round(facts.deadS / stepS);
  const keep = (tau: number) => Math.exp(-stepS / tau);
  const [shown, level, clean] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  let [pressure, light, slow, fast] = [course.pressure[0]!, steady(course.pressure[0]!), 0, 0];
  for (let i = 0; i < n; i += 1) {
    const j = Math.max(0, i - dead);
    const open = course.flame[j]! ? steady(course.pressure[j]!) : dark;
    const seen = shutter?.beforeLag && isShut(i * stepS) ? dark : open;
    light += (seen - light) * after(facts.lagS);
    pressure += (course.pressure[i]! - pressure) * after(facts.manometerS);
    fast = keep(0.4) * fast + Math.sqrt(1 - keep(0.4) ** 2) * random.normal();
    if (facts.correlatedS > 0)
      slow = keep(facts.correlatedS) * slow + Math.sqrt(1 - keep(facts.correlatedS) ** 2) * random.normal();
    const share = Math.min(1, Math.max(0, (light - dark) / (top - dark)));
    shown[i] = pressure;
    clean[i] = light;
    level[i] = light + facts.flicker * 4 * share * (1 - share) * fast + facts.noise * slow * Math.min(1, 10 * share);
    if (shutter && !shutter.beforeLag && isShut(i * stepS)) level[i] = dark + 0.05 * (level[i]! - dark);
  }
  const readings: Reading[] = [];
  const white = facts.correlatedS > 0 ? facts.noise / 4 : facts.noise;
  const read = (
    role: Reading['role'],
    unit: Reading['unit'],
    hz: number,
    digit: number,
    value: (i: number) => number,
  ) => {
    for (let t = random.uniform() / hz; t < n * stepS; t += (1 / hz) * (0.85 + 0.3 * random.uniform())) {
      const number = Math.round(value(Math.min(n - 1, Math.floor(t / stepS))) / digit) * digit;
      readings.push({ role, unit, elapsedS: Math.round(t * 1000) / 1000, value: number, raw: String(number) });
    }
  };
  read('pilot_pressure', 'inH2O', facts.pressureHz, facts.pressureDigit, (i) => shown[i]! + 0.003 * random.normal());
  read('flame_signal', 'V', facts.signalHz, facts.signalDigit, (i) => level[i]! + white * random.normal());
  return { readings: readings.sort((a, b) => a.elapsedS - b.elapsedS), light: clean };
}
