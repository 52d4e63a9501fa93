import { predictStates, smoothStep, type Transitions, updateStates } from '../numerics/hidden-markov.ts';

/** Probabilities of all states, step after step, row by row. */
export interface Course {
  size: number;
  rows: Float64Array;
}

/** Turns filtered probabilities into smoothed ones, in place, from the last row to the first. */
export function smoothCourse({ size, rows }: Course, transitions: Transitions): void {
  const steps = rows.length / size;
  const predicted = new Float64Array(size);
  const into = new Float64Array(size);
  for (let t = steps - 2; t >= 0; t -= 1) {
    const now = rows.subarray(t * size, (t + 1) * size);
    predictStates(now, transitions, predicted);
    smoothStep(now, predicted, rows.subarray((t + 1) * size, (t + 2) * size), transitions, into);
    const total = into.reduce((sum, p) => sum + p, 0);
    // A step whose readings no state allowed breaks the chain there: what was known up to it stays.
    if (total > 0) for (let i = 0; i < size; i += 1) now[i] = into[i]! / total;
  }
}

/** Smoothed probabilities of a chain whose likelihoods are given; undefined where nothing was observed. */
export function filterAndSmooth(
  initial: Float64Array,
  transitions: Transitions,
  likelihoods: readonly (Float64Array | undefined)[],
): Course {
  const { size } = transitions;
  const rows = new Float64Array(likelihoods.length * size);
  let now = initial.slice();
  const next = new Float64Array(size);
  likelihoods.forEach((likelihood, t) => {
    if (t > 0) {
      predictStates(now, transitions, next);
      now.set(next);
    }
    if (likelihood) updateStates(now, likelihood);
    rows.set(now, t * size);
  });
  const course = { size, rows };
  smoothCourse(course, transitions);
  return course;
}
