import { hiddenStates, stateNumber, stepS, sumOf } from './states.ts';

/** Follows a signal that is none of the pilot's flame: of a spark, hot refractory or another flame, there before the gas or over shut gas. */
export interface StraySignal {
  /** One more step of the chain. `darkForS`: for how long the signal has been dark, seconds. */
  step(probabilities: Float64Array, darkForS: number): void;
  /** The signal was dark since gas last flowed: a flame that burned as gas was shut, or as a hose came off, was not. */
  wasDark(): boolean;
  /** What is seen was there before the gas, and has been neither dark nor a flame's since. */
  isStray(): boolean;
  /** It stood without gas for longer than the slowest gauge takes to show gas. */
  isLingering(): boolean;
}

/** The slowest gauge shows gas that has come on by now, seconds: a reading every two, and some damping. */
export const slowestGaugeS = 3;
/** A signal that is dark for so long is dark for good, seconds. */
const surelyDarkS = 2;

const flowing = hiddenStates.flatMap(({ gas }, i) => (gas === 'flowing' ? [i] : []));
/** Gas is shut, and something is seen all the same. */
export const withoutGas = hiddenStates.flatMap(({ gas, flame }, i) =>
  gas === 'shut' && flame === 'unknown' ? [i] : [],
);
/** Gas comes on, flows or is shut off under it. */
const underIt = ['opening-bright', 'bright', 'closing-bright'].map((name) => stateNumber.get(name)!);

/** Makes one. */
export function createStraySignal(): StraySignal {
  let wasDark = false;
  let isStray = false;
  let stoodForS = 0;
  return {
    step(probabilities, darkForS) {
      const isFlowing = sumOf(probabilities, flowing) > 0.5;
      const [without, under] = [sumOf(probabilities, withoutGas), sumOf(probabilities, underIt)];
      const isDark = darkForS >= surelyDarkS;
      wasDark = !isFlowing && (wasDark || isDark);
      if (without > 0.5) stoodForS += stepS;
      else if (without + under < 0.5) stoodForS = 0;
      isStray = under > 0.5 || (isStray && !isFlowing && !isDark);
    },
    wasDark: () => wasDark,
    isStray: () => isStray,
    isLingering: () => stoodForS >= slowestGaugeS,
  };
}
