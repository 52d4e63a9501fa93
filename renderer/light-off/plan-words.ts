import type { CaptureView } from '../../shared/contract/api.ts';
import type { CaptureAdvice } from '../../shared/model/results/advice.ts';
import { askedWords } from '../../shared/light-off/plan-at-setting.ts';
import { planOf } from '../../shared/light-off/plan.ts';
import { sweepsOf } from '../../shared/model/sweeps.ts';
import { judgedTrials } from '../../shared/model/trials/valid-trials.ts';

/** What the plan asks for, as a sentence. */
export const planAsked = ({ setup }: Pick<CaptureView, 'setup'>): string =>
  `The plan asks for ${askedWords(planOf(setup))}.`;

/**
 * What has to be agreed before the delayed trials that the plan still needs can be advised; undefined where nothing is missing. Without it
 * the trials that are advised never meet the plan.
 */
export const agreeWords = (
  { setup }: Pick<CaptureView, 'setup'>,
  { plainStillNeeded, delayedStillNeeded }: CaptureAdvice['proof'],
): string | undefined =>
  plainStillNeeded === 0 && delayedStillNeeded > 0 && setup.trialLimits?.longestDelay_s === undefined
    ? 'No delayed trial is advised before the longest spark delay is agreed: enter it at Burner.'
    : undefined;

/** Whether no trial is advised although the plan asks for more: the reason is what the technician needs to know. */
export const stopsShort = ({ next, plan }: Pick<CaptureAdvice, 'next' | 'plan'>): boolean =>
  next === null && plan?.met !== true;

/** Whether a sweep was made that counts, without which there is nothing to calculate from. */
export const hasSweep = ({ marks }: Pick<CaptureView, 'marks'>): boolean =>
  sweepsOf(marks).some(({ isVoid }) => !isVoid);

/** Whether there is anything to calculate an advice from. */
export const isAdvisable = (capture: Pick<CaptureView, 'status' | 'marks'>): boolean =>
  capture.status !== 'recording' || hasSweep(capture);

/** What is known while nothing is calculated yet: the trials alone, and without a sweep what is missing. */
export function knownMeanwhile(capture: Pick<CaptureView, 'setup' | 'marks' | 'trials'>): string[] {
  const trials = judgedTrials(capture.trials, capture.setup);
  const lit = trials.filter((trial) => trial.lit).length;
  return [
    hasSweep(capture) ? 'Calculating what the trials prove…' : 'A sweep has to find the window first.',
    ...(trials.length === 0
      ? []
      : [
          hasSweep(capture)
            ? `So far ${lit} of ${trials.length} lit.`
            : `${lit} of ${trials.length} lit. They count once there is a setting.`,
        ]),
  ];
}
