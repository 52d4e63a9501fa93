import { describe, expect, it } from 'vitest';
import {
  isBeforeFirstTrial,
  isReady,
  purgeWords,
  readyWords,
  trialProblem,
  waitWords,
} from '../../../shared/burner-state/trials/readiness.ts';

const shut = { gas: 'shut', flame: 'dark' } as const;
const silent = { kind: 'silent' as const, forS: 3 };

describe('the next trial', () => {
  it('is ready with gas shut, both meters sound and no alarm', () => {
    expect(trialProblem({ burner: shut, hasSignalMeter: true })).toBeUndefined();
    expect(isReady({ burner: shut, hasSignalMeter: true })).toBe(true);
    expect(isReady({ burner: { ...shut, moreAir: true }, hasSignalMeter: true })).toBe(false);
  });
  it('is not ready while a signal stands over shut gas: what is seen then proves no flame', () => {
    const bright = { ...shut, flame: 'unknown' } as const;
    expect(isReady({ burner: bright, hasSignalMeter: true })).toBe(false);
    // Without a signal meter nobody sees one.
    expect(isReady({ burner: bright, hasSignalMeter: false })).toBe(true);
    expect(isReady({ burner: { ...shut, flame: 'out' }, hasSignalMeter: true })).toBe(true);
  });
  it('is not offered while the host says nothing, an alarm is on, or a connected meter is in trouble', () => {
    expect(trialProblem({ burner: undefined, hasSignalMeter: true })).toMatch(/unknown/u);
    const alarm = { message: 'Flame lost, gas is on.' };
    expect(trialProblem({ burner: { ...shut, alarm }, hasSignalMeter: true })).toBe('Flame lost, gas is on.');
    expect(trialProblem({ burner: { ...shut, pressureTrouble: silent }, hasSignalMeter: false })).toMatch(/manometer/u);
    expect(trialProblem({ burner: { ...shut, signalTrouble: silent }, hasSignalMeter: true })).toMatch(/flame signal/u);
  });
  it('is offered by button where no flame signal meter is connected', () =>
    expect(trialProblem({ burner: { ...shut, signalTrouble: silent }, hasSignalMeter: false })).toBeUndefined());
  it('waits for a purge that counts down only while gas is shut, or nobody can say', () => {
    expect(purgeWords('shut', 12.2, 30)).toBe('Purge: 13 s left');
    for (const gas of ['unknown', undefined] as const) expect(purgeWords(gas, 12.2, 30)).toBe('Purge: 13 s left');
    for (const gas of ['opening', 'flowing', 'closing'] as const)
      expect(purgeWords(gas, 12.2, 30)).toBe('Purge 30 s after gas is shut');
  });
  it('is told of a mere wait that it is no purge, and why', () => {
    expect(waitWords(15.9, {})).toBe('Waited 15 s; not a purge: the fan is not confirmed.');
    expect(waitWords(15.9, { gone: true })).toBe(
      'Waited 15 s; not a purge: the fan-only pressure has gone, look at the fan.',
    );
    expect(waitWords(15.9, { shown: false })).toBe('Waited 15 s; not a purge: the fan pressure shows no moving air.');
  });
  it('is the first of a recording while no gas was on and none was made', () => {
    const purge = (needed: boolean) => ({ gas: 'shut', purge: { needed } }) as const;
    expect(isBeforeFirstTrial(purge(false), [])).toBe(true);
    expect(isBeforeFirstTrial(purge(true), [])).toBe(false);
    expect(isBeforeFirstTrial(purge(false), [{}])).toBe(false);
    expect(isBeforeFirstTrial({ ...purge(false), gas: 'unknown' }, [])).toBe(false);
  });
  it('is called ready only after a purge, and once it is known that one is advised', () => {
    const all = {
      isReady: true,
      isMoreAir: false,
      isSignalWithoutGas: false,
      isUnpurged: false,
      isUnjudged: false,
      isPending: false,
      hasFailed: false,
      isSweeping: false,
      isPassed: false,
      isDone: false,
      stopsShort: false,
      isUnannounced: false,
    };
    expect(readyWords(all)).toBe('Ready for the next trial');
    for (const not of [
      { isReady: false },
      { isMoreAir: true },
      { isSignalWithoutGas: true },
      { isUnpurged: true },
      { isUnjudged: true },
      { isPassed: true },
      { isPending: true },
      { hasFailed: true },
      { isDone: true },
      { isUnannounced: true },
    ])
      expect(readyWords({ ...all, ...not })).not.toContain('Ready');
    // What is left to do comes before what need not be done.
    expect(readyWords({ ...all, isUnjudged: true, isPassed: true })).toBe('Enter how the last trial ended.');
  });
  it('is for the flame of a sweep that was interrupted, as the head of the window says', () => {
    const lost = {
      isReady: true,
      isMoreAir: false,
      isSignalWithoutGas: false,
      isUnpurged: false,
      isUnannounced: false,
      isUnjudged: false,
      isPassed: false,
    };
    const advised = { ...lost, isPending: false, hasFailed: false, isDone: true, stopsShort: false, isSweeping: true };
    expect(readyWords(advised)).toBe('Relight the pilot, or end the sweep.');
    expect(readyWords({ ...advised, isPending: true })).toBe('Relight the pilot, or end the sweep.');
    expect(readyWords({ ...advised, isUnpurged: true })).toContain('Purge');
    expect(readyWords({ ...advised, hasFailed: true })).toContain('did not light');
  });
  it('is never called ready with gas on, or of which nobody knows', () => {
    for (const gas of ['opening', 'flowing', 'closing', 'unknown'] as const)
      expect(isReady({ burner: { ...shut, gas }, hasSignalMeter: true })).toBe(false);
  });
});
