import type { Capture } from '../../model/capture.ts';
import { timelyTest } from './clean.ts';

/** To a microsecond, which no meter tells: what a subtraction leaves in the last binary digits must not decide anything. */
const stepsPerS = 1e6;

/** Time of the first reading, seconds, of those whose time is no logger's error; 0 where there is none. */
export function firstTimeS({ readings }: Capture): number {
  const times = Float64Array.from(readings, ({ elapsedS }) => elapsedS).filter(Number.isFinite);
  const isTimely = timelyTest(times);
  const first = times.filter(isTimely).reduce((a, b) => Math.min(a, b), Infinity);
  return first === Infinity ? 0 : first;
}

/** The capture with its seconds counted from another zero: what is found in it must not depend on when somebody pressed start. */
export function countedFrom(zeroS: number, capture: Capture): Capture {
  const moved = (elapsedS: number) => Math.round((elapsedS - zeroS) * stepsPerS) / stepsPerS;
  return {
    ...capture,
    readings: capture.readings.map((reading) => ({ ...reading, elapsedS: moved(reading.elapsedS) })),
    marks: capture.marks.map((mark) => ({ ...mark, elapsedS: moved(mark.elapsedS) })),
    trials: capture.trials.map((trial) =>
      trial.elapsedS === undefined ? trial : { ...trial, elapsedS: moved(trial.elapsedS) },
    ),
  };
}
