import type { Capture, Mark, Trial } from '../../shared/model/capture.ts';
import type { Reading } from '../../shared/model/reading.ts';
import type { Setup } from '../../shared/model/setup.ts';
import { createRandom } from '../../shared/numerics/random.ts';

/** One thing that is done at the burner; pressures of the regulator in inH2O above none. Without `to` the screw rests. */
export interface Act {
  seconds: number;
  to?: number;
  valve?: 'open' | 'shut';
  spark?: true;
  /** A draft blows the flame out. */
  flame?: 'out';
}

/** A pilot as a person would draw it: shoulders from where to where, flame lost below and above, V and inH2O. */
export interface PilotFacts {
  /** The signal is half of the plateau at these pressures, and falls from 90 % to 10 % within about 4.4 widths. */
  low: number;
  high: number;
  width: number;
  /** The flame goes out below this pressure, at once. */
  lostBelow?: number;
  /** It comes back by itself above this one. */
  backAbove?: number;
  /** The same on the rich side. */
  lostAbove?: number;
  backBelow?: number;
  /** This share of its signal, until gas is shut; all of it where none is told. */
  backShare?: number;
  fanOnly: number;
  plateau: number;
  /** The signal follows the flame with this lag, seconds; 1 where none is told. */
  lagS?: number;
  start: number;
  seed: number;
  setup?: Setup;
  trials?: Trial[];
  marks?: Mark[];
  /** Readings before this moment were not recorded, seconds. */
  recordedFrom?: number;
}

const logistic = (x: number) => 1 / (1 + Math.exp(-x));

/** Where the steady signal has fallen to nine tenths of the plateau: the logistic is 0.9 at ln 9 widths. */
export const trueEnds = ({ low, high, width }: PilotFacts) => ({
  low: low + Math.log(9) * width,
  high: high - Math.log(9) * width,
});

/**
 * A capture of what two meters see of such a pilot: the manometer ten times, the signal five times a second. The valve lets the
 * pressure through within half a second and out as fast; the signal follows the flame with its lag.
 */
export function record(facts: PilotFacts, acts: Act[]): Capture {
  const random = createRandom(facts.seed);
  const stepS = 0.02;
  const readings: Reading[] = [];
  const state = {
    screw: facts.start,
    valve: true,
    lit: true,
    share: 1,
    pressure: facts.start,
    signal: facts.plateau,
    t: 0,
  };
  const steady = (p: number) =>
    facts.plateau * logistic((p - facts.low) / facts.width) * logistic((facts.high - p) / facts.width);
  for (const act of acts) {
    if (act.valve) state.valve = act.valve === 'open';
    if (act.flame) state.lit = false;
    const from = state.screw;
    const steps = Math.round(act.seconds / stepS);
    for (let i = 1; i <= steps; i += 1) {
      state.t += stepS;
      if (act.to !== undefined) state.screw = from + ((act.to - from) * i) / steps;
      const target = state.valve ? state.screw : facts.fanOnly;
      state.pressure += (target - state.pressure) * (1 - Math.exp(-stepS / 0.15));
      const { pressure } = state;
      const isBack = pressure > (facts.backAbove ?? Infinity) && pressure < (facts.backBelow ?? Infinity);
      const isLost = pressure < (facts.lostBelow ?? 0) || pressure > (facts.lostAbove ?? Infinity);
      if (!state.valve || isLost) state.lit = false;
      else if (act.spark || isBack) {
        if (!state.lit) state.share = act.spark ? 1 : (facts.backShare ?? 1);
        state.lit = true;
      }
      const flame = state.lit ? state.share * steady(pressure) : 0;
      state.signal += (flame - state.signal) * (1 - Math.exp(-stepS / (facts.lagS ?? 1)));
      const n = Math.round(state.t / stepS);
      const push = (role: Reading['role'], unit: Reading['unit'], value: number) =>
        readings.push({ role, unit, elapsedS: Number(state.t.toFixed(3)), value: Number(value.toFixed(3)), raw: '' });
      if (state.t < (facts.recordedFrom ?? 0)) continue;
      if (n % 5 === 0) push('pilot_pressure', 'inH2O', pressure + 0.003 * random.normal());
      if (n % 10 === 3) push('flame_signal', 'V', 0.02 + state.signal + (0.004 + 0.01 * flame) * random.normal());
    }
  }
  return {
    id: 'by hand',
    meters: [],
    lines: [],
    notes: [],
    readings,
    setup: facts.setup ?? {},
    marks: facts.marks ?? [],
    trials: facts.trials ?? [],
  };
}

/** A good pilot, its ends at 1.22 and 3.98 inH2O, over a fan that shows 0.3. */
export const goodPilot: PilotFacts = { low: 1, high: 4.2, width: 0.1, fanOnly: 0.3, plateau: 4.6, start: 2.4, seed: 1 };

/** What is done in one sweep, down past the low end and up past the high one. */
export const sweepDownAndUp: Act[] = [
  { seconds: 6 },
  { seconds: 30, to: 0.95 },
  { seconds: 3 },
  { seconds: 70, to: 4.35 },
  { seconds: 3 },
  { seconds: 40, to: 2.4 },
  { seconds: 6 },
];
/** Two sweeps half a minute apart, the second of a burner whose high end lies elsewhere. */
export function twoSweeps(secondHigh: number): Capture {
  const first = record(goodPilot, sweepDownAndUp);
  const second = record({ ...goodPilot, high: secondHigh, seed: 2 }, sweepDownAndUp);
  const laterS = first.readings.at(-1)!.elapsedS + 30;
  const later = second.readings.map((reading) => ({ ...reading, elapsedS: reading.elapsedS + laterS }));
  return { ...first, readings: [...first.readings, ...later] };
}

/** From the middle down, up and back to the middle, slowly. */
export const slowSweep: Act[] = [
  { seconds: 8 },
  { seconds: 40, to: 0.95 },
  { seconds: 4 },
  { seconds: 90, to: 4.35 },
  { seconds: 4 },
  { seconds: 50, to: 2.4 },
  { seconds: 8 },
];

/** Turned down fast in the end, and the recording stopped: the flame may have been lost, or the valve shut. */
export const turnedFastInTheEnd: Act[] = [
  { seconds: 8 },
  { seconds: 60, to: 4.35 },
  { seconds: 4 },
  { seconds: 60, to: 2.4 },
  { seconds: 4 },
  { seconds: 5, to: 0.45 },
  { seconds: 10 },
];
