import type { Capture } from '../../model/capture.ts';
import { timelyTest } from './clean.ts';
import { finiteTimes } from './finite-times.ts';

/** To a microsecond, which no meter tells: what a subtraction leaves in the last binary digits must not decide anything. */
const stepsPerS = 1e6;

/** Time of the first reading, seconds, of those whose time is no logger's error; 0 where there is none. */
export function firstTimeS({ readings }: Capture): number {
  const times = finiteTimes(readings);
  const isTimely = timelyTest(times);
  let first = Infinity;
  for (let i = 0; i < times.length; i += 1) if (times[i]! < first && isTimely(times[i]!)) first = times[i]!;
  return first === Infinity ? 0 : first;
}

/** The capture with its seconds counted from another zero: what is found in it must not depend on when somebody pressed start. */
export function countedFrom(zeroS: number, capture: Capture): Capture {
  const moved = (elapsedS: number) => Math.round((elapsedS - zeroS) * stepsPerS) / stepsPerS;
  return {
    ...capture,
    // Those whose time is the same already are not made anew: an hour has some 360,000.
    readings: capture.readings.map((reading) => {
      const elapsedS = moved(reading.elapsedS);
      return Object.is(elapsedS, reading.elapsedS) ? reading : { ...reading, elapsedS };
    }),
    marks: capture.marks.map((mark) => ({ ...mark, elapsedS: moved(mark.elapsedS) })),
    trials: capture.trials.map((trial) =>
      trial.elapsedS === undefined ? trial : { ...trial, elapsedS: moved(trial.elapsedS) },
    ),
  };
}
