import { describe, expect, it } from 'vitest';
import { agreeWords, hasSweep, knownMeanwhile, planAsked } from '../../../renderer/light-off/plan-words.ts';
import type { Mark, Trial } from '../../../shared/model/capture.ts';

const trial = (lit: boolean): Trial => ({ pressure: 2.4, unit: 'inH2O', sparkDelayS: 0, lit });
const swept: Mark[] = [
  { elapsedS: 1, kind: 'sweep-start', text: '' },
  { elapsedS: 60, kind: 'sweep-end', text: '' },
];

describe('what is known of light-off before anything is calculated', () => {
  it('names the sweep that is missing, and never claims to calculate from nothing', () => {
    const known = knownMeanwhile({ setup: {}, marks: [], trials: [] });
    expect(known).toEqual(['A sweep has to find the window first.']);
    expect(hasSweep({ marks: [] })).toBe(false);
  });
  it('counts the trials that were made', () => {
    const trials = [trial(true), trial(true), trial(false)] as never;
    expect(knownMeanwhile({ setup: {}, marks: [], trials }).join(' ')).toContain('2 of 3 lit');
    const known = knownMeanwhile({ setup: {}, marks: swept, trials });
    expect(known[0]).toMatch(/^Calculating/u);
    expect(known[1]).toBe('So far 2 of 3 lit.');
  });
  it('asks for the longest spark delay once nothing but delayed trials is missing, and none is agreed', () => {
    const proof = { plainStillNeeded: 0, delayedStillNeeded: 1 };
    expect(agreeWords({ setup: {} }, proof)).toContain('longest spark delay');
    expect(agreeWords({ setup: { trialLimits: { longestDelay_s: 5 } } }, proof)).toBeUndefined();
    expect(agreeWords({ setup: {} }, { ...proof, plainStillNeeded: 2 })).toBeUndefined();
    expect(agreeWords({ setup: {} }, { ...proof, delayedStillNeeded: 0 })).toBeUndefined();
  });
  it('says what the plan asks for: so many in a row, or the trials of a claim', () => {
    expect(planAsked({ setup: {} })).toBe(
      'The plan asks for 3 in a row with the spark at once and 1 delayed, without a failure.',
    );
    // Success-run theorem: 0.9 to the 22nd is the first power of 0.9 below 0.1.
    expect(planAsked({ setup: { lightOffPlan: { probability: 0.9, confidence: 0.9, delayed: 0 } } })).toBe(
      'The plan asks for 22 in a row with the spark at once, without a failure.',
    );
  });
});
