import { exp } from '../../numerics/elementary.ts';
import type { PressureStep } from './pressure-likelihood.ts';
import type { SignalStep } from './signal-step.ts';
import { stepS } from './states.ts';

/** Seconds of the pressure's past that a slow signal still follows. */
const followsS = 3;
/** So long after the hand rests the signal may still run out: some lags. */
const runsOutS = 6;
/** Seconds over which the signal's rate is averaged: a few readings, less than a lag. */
const rateS = 0.4;

/** When a hand that turns now is seen to have turned, seconds ago: lately, and before that. */
const lately = { fromS: 2.2, untilS: 0.7 };
const earlier = { fromS: 3.7, untilS: 2.2 };
/** By how much the pressure must have moved then, inH2O. */
const leastTurn = 0.05;
/** A hand that turned no faster than this goes on, inH2O a second; a valve that shuts slowly is faster at first. */
const carefulPerS = 0.15;
/** A faster one goes on where it turned so evenly: of a valve that shuts half of the rate is gone meanwhile. */
const evenly = { least: 0.75, most: 1.33 };

/** Last readings of both meters, as far as a new one is judged by them. Pressures in inH2O, the signal in its unit. */
export interface RecentReadings {
  /** A step of `stepS` has passed. */
  age(): void;
  /** A new pressure beside the one before. */
  pressureStep(value: number): Pick<PressureStep, 'value' | 'before' | 'sinceS'>;
  /** A new signal beside those before; `pressureUncertainty` of the manometer. */
  signalStep(value: number, pressureUncertainty: number): SignalStep;
  /** Value less twice the reading before plus the one before that, where they are about equally far apart; undefined otherwise. */
  pressureSecondDifference(value: number): number | undefined;
  /**
   * How the regulator was turned some readings ago, inH2O a second: 0 where that is not seen, and where a valve that shuts would look the
   * same. The last readings are left out: a valve may have moved them.
   *
   * @param uncertainty  standard uncertainty of one reading, inH2O
   */
  turn(uncertainty: number): { perS: number; goesOnPerS: number };
  /** The lowest pressure of the last `seconds`, inH2O; undefined where none was read. */
  lowestPressure(seconds: number): number | undefined;
  signalSecondDifference(value: number): number | undefined;
  addPressure(value: number): void;
  addSignal(value: number): void;
}

/** Seconds after so many steps, added up one by one. */
const secondsAfter = [0];
while (secondsAfter.at(-1)! <= runsOutS) secondsAfter.push(secondsAfter.at(-1)! + stepS);

/** The last pressures, from the oldest on, inH2O, and at which step each was read. */
interface Pressures {
  values: number[];
  steps: number[];
  /** The step that it is now. */
  now: number;
}

/** How long ago the pressure at a place was read, seconds. */
const agoS = ({ steps, now }: Pressures, place: number): number => secondsAfter[now - steps[place]!]!;

export function createRecentReadings(): RecentReadings {
  let pressure: { value: number; sinceS: number } | undefined;
  let signal: { value: number; sinceS: number; change: number; intervalS: number; rate: number } | undefined;
  const pressures: Pressures = { values: [], steps: [], now: 0 }; // of the last `runsOutS` seconds
  return {
    age() {
      if (pressure) pressure.sinceS += stepS;
      if (signal) signal.sinceS += stepS;
      pressures.now += 1;
      while (pressures.steps.length > 0 && agoS(pressures, 0) > runsOutS) {
        pressures.values.shift();
        pressures.steps.shift();
      }
    },
    pressureStep: (value) => ({ value, before: pressure?.value ?? value, sinceS: pressure?.sinceS ?? stepS }),
    signalStep: (value, pressureUncertainty) => ({
      value,
      before: signal?.value ?? value,
      sinceS: signal?.sinceS ?? stepS,
      changeBefore: signal?.change ?? 0,
      beforeS: signal?.intervalS ?? stepS,
      rate: signal?.rate ?? 0,
      pressureRate: rangeOf(pressures, followsS) / followsS,
      pressureMoves: rangeOf(pressures, runsOutS) > 2 * pressureUncertainty,
    }),
    pressureSecondDifference(value) {
      const { values } = pressures;
      const [second, first] = [values.length - 2, values.length - 1];
      const isEven = second >= 0 && Math.abs(agoS(pressures, second) - 2 * agoS(pressures, first)) < 1.5 * stepS;
      return isEven ? value - 2 * values[first]! + values[second]! : undefined;
    },
    turn(uncertainty) {
      const least = Math.max(leastTurn, 2 * uncertainty);
      const perS = rateIn(pressures, lately, least);
      const share = perS === 0 ? 0 : rateIn(pressures, earlier, least) / perS;
      const goesOn = Math.abs(perS) <= carefulPerS || (share > evenly.least && share < evenly.most);
      return { perS, goesOnPerS: goesOn ? perS : 0 };
    },
    lowestPressure: (seconds) => extremesOf(pressures, seconds)?.low,
    signalSecondDifference: (value) =>
      signal && Math.abs(signal.sinceS - signal.intervalS) < 1.5 * stepS
        ? value - signal.value - signal.change
        : undefined,
    addPressure(value) {
      pressure = { value, sinceS: 0 };
      pressures.values.push(value);
      pressures.steps.push(pressures.now);
    },
    addSignal(value) {
      const change = signal ? value - signal.value : 0;
      const intervalS = signal?.sinceS ?? stepS;
      const before = signal?.rate ?? 0;
      const rate = before + (1 - exp(-intervalS / rateS)) * (change / intervalS - before);
      signal = { value, sinceS: 0, change, intervalS, rate };
    },
  };
}

/** How fast the pressure moved in a part of the past, inH2O a second; 0 where it moved by no more than `least`. */
function rateIn(recent: Pressures, { fromS, untilS }: { fromS: number; untilS: number }, least: number): number {
  const { values } = recent;
  let last = values.length - 1;
  while (last >= 0 && agoS(recent, last) <= untilS) last -= 1;
  let first = last;
  while (first > 0 && agoS(recent, first - 1) <= fromS) first -= 1;
  if (last < 0 || agoS(recent, last) > fromS || Math.abs(values[last]! - values[first]!) <= least) return 0;
  return (values[last]! - values[first]!) / (agoS(recent, first) - agoS(recent, last));
}

/** By how much the pressure moved in the last `seconds`, inH2O. */
function rangeOf(recent: Pressures, seconds: number): number {
  const extremes = extremesOf(recent, seconds);
  return extremes ? extremes.high - extremes.low : 0;
}

/** The lowest and the highest pressure of the last `seconds`, inH2O; undefined where none was read. */
function extremesOf(recent: Pressures, seconds: number): { low: number; high: number } | undefined {
  const { values } = recent;
  let low = Infinity;
  let high = -Infinity;
  for (let place = values.length - 1; place >= 0 && agoS(recent, place) <= seconds; place -= 1) {
    low = Math.min(low, values[place]!);
    high = Math.max(high, values[place]!);
  }
  return high >= low ? { low, high } : undefined;
}
