import { exp } from '../numerics/elementary.ts';

/** The logistic function: 0 far to the left, 1/2 at 0, 1 far to the right. */
export const logistic = (x: number): number => 1 / (1 + exp(-x));

/** What is left after `stepS` of something that decays exponentially with time constant `timeConstantS`: 1 to 0. */
export const decay = (stepS: number, timeConstantS: number): number => exp(-stepS / timeConstantS);

/** Part of the way to its input that a first-order lag goes in `stepS`: 0 to 1, exact for any step. */
export const lagStep = (stepS: number, timeConstantS: number): number => 1 - decay(stepS, timeConstantS);
