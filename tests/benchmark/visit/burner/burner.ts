import type { Random } from '../../../../shared/numerics/random.ts';
import { type BurnerFacts, type Hands, stepS } from './facts.ts';
import { shareAt } from './curves.ts';
import { createDetector, seenFlicker, steadySignal } from './detector.ts';
import { createFlame } from './flame.ts';
import { createGasTrain } from './gas-train.ts';

/** The burner step by step, for the truth to be read from. Pressures in inH2O, signals as a share of the amplitude. */
export interface Trace {
  pressure: number[];
  /** Where the pressure would stand with the valve open and the screw as it is. */
  stand: number[];
  /** Where it would stand with the valve as it is: fan-only, the regulator's pressure, or what a leak keeps up. */
  rest: number[];
  fanOnly: number[];
  fanSpeed: number[];
  valve: boolean[];
  spark: boolean[];
  flame: boolean[];
  shutter: boolean[];
  /** Steady signal of a flame at this pressure and as warm as it is, not clipped, and the deviation of its flicker as it is seen. */
  steady: number[];
  flicker: number[];
  /** Noise-free by the meter: after dead time, lag and clip. */
  signal: number[];
  /** Share of the light that a gust takes away. */
  gust: number[];
}

export interface Burner {
  hands: Hands;
  trace: Trace;
  readonly t: number;
  readonly pressure: number;
  readonly flame: boolean;
  /** What a good meter shows: the lagged signal above dark. */
  readonly signal: number;
  /** The control shut the valve by itself. */
  tripped: boolean;
  step(): void;
}

/** A burner that stands idle, its fan off unless `fan`, its screw at `screw`. */
export function createBurner(facts: BurnerFacts, start: { fan: boolean; screw: number }, random: Random): Burner {
  const hands: Hands = { fan: start.fan, damper: false, valve: false, spark: false, screw: start.screw };
  const trace: Trace = {
    pressure: [],
    stand: [],
    rest: [],
    fanOnly: [],
    fanSpeed: [],
    valve: [],
    spark: [],
    flame: [],
    shutter: [],
    steady: [],
    flicker: [],
    signal: [],
    gust: [],
  };
  const gas = createGasTrain(facts, start, random);
  const flame = createFlame(facts, random);
  const detector = createDetector(facts, random);
  let unlitS = 0;

  return {
    hands,
    trace,
    tripped: false,
    get t() {
      return trace.pressure.length * stepS;
    },
    get pressure() {
      return gas.pressure;
    },
    get flame() {
      return flame.burns;
    },
    get signal() {
      return detector.signal - facts.detector.dark;
    },
    step() {
      gas.step(hands);
      flame.step(gas.pressure, hands);
      const share = shareAt(facts.curve, gas.pressure);
      detector.step(share, flame, hands.spark);
      // Flame failure: only what was proved can fail, and the control's own eye is quick.
      unlitS = hands.valve && flame.hasBurned && !flame.burns ? unlitS + stepS : 0;
      if (unlitS >= facts.control.failureS) {
        hands.valve = false;
        hands.spark = false;
        this.tripped = true;
      }
      trace.pressure.push(gas.pressure);
      trace.stand.push(gas.stand);
      trace.rest.push(gas.rest);
      trace.fanOnly.push(gas.fanOnly);
      trace.fanSpeed.push(gas.fanSpeed);
      trace.valve.push(hands.valve);
      trace.spark.push(hands.spark);
      trace.flame.push(flame.burns);
      trace.shutter.push(detector.shut);
      trace.steady.push(steadySignal(facts, share, flame.burnedS));
      trace.flicker.push(seenFlicker(facts, share));
      trace.signal.push(detector.signal);
      trace.gust.push(detector.gust);
    },
  };
}
