import { describe, expect, it } from 'vitest';
import { purgeLeft, purgeUntil } from '../../../shared/burner-state/purge.ts';
import { sparkDelayRefusal, trialPhase, trialRefusal } from '../../../shared/burner-state/trials/trial.ts';

const ready = {
  nowS: 100,
  alarm: undefined,
  isRunning: false,
  purgeUntilS: undefined,
  sparkDelayS: 0,
  trialSeconds: 10,
};

describe('a light-off trial may begin', () => {
  it('before any other trial, with the spark at once or delayed within the trial', () => {
    expect(trialRefusal(ready)).toBeUndefined();
    expect(trialRefusal({ ...ready, sparkDelayS: 9.9 })).toBeUndefined();
  });
  it('not while another runs, whatever else is right', () => {
    expect(trialRefusal({ ...ready, isRunning: true })?.code).toBe('trial-running');
  });
  it('not while an alarm is on, even where no meter shows the purge any more', () => {
    for (const [kind, code] of [
      ['flame-lost', 'flame-lost'],
      ['gas-unlit', 'gas-unlit'],
      ['not-shut', 'gas-not-shut'],
    ] as const)
      expect(trialRefusal({ ...ready, alarm: { kind, sinceS: 90 } })?.code).toBe(code);
  });
  it('not before the purge is over, and says how many seconds are left, rounded up', () => {
    expect(trialRefusal({ ...ready, purgeUntilS: 130.2 })).toMatchObject({
      code: 'purge-wait',
      facts: { seconds: 31 },
    });
    expect(trialRefusal({ ...ready, purgeUntilS: 100 })).toBeUndefined();
  });
  it('not while the meters show that the purge was not long enough, whatever the time since the last trial', () => {
    expect(trialRefusal({ ...ready, purgeUntilS: 90, purgeMissingS: 12.3 })).toMatchObject({
      code: 'purge-wait',
      facts: { seconds: 13 },
    });
    expect(trialRefusal({ ...ready, purgeMissingS: 0 })).toBeUndefined();
  });
  it('not with a spark that comes when the trial is over, nor with one that is no time', () => {
    expect(trialRefusal({ ...ready, sparkDelayS: 10 })?.code).toBe('spark-delay-too-long');
    expect(sparkDelayRefusal(Number.NaN, 10)?.code).toBe('spark-delay-too-long');
    expect(sparkDelayRefusal(-1, 10)?.code).toBe('spark-delay-too-long');
  });
  it('not with gas unlit for a minute, however long the trial is said to be', () => {
    expect(sparkDelayRefusal(59, 300)).toBeUndefined();
    expect(sparkDelayRefusal(60, 300)).toMatchObject({ code: 'spark-delay-too-long', facts: { seconds: 60 } });
  });
});

describe('the purge', () => {
  const ended = (elapsedS: number, text: string) => ({ elapsedS, kind: 'trial-end' as const, text });
  it('counts from the end of the last trial, lit, not lit or discarded', () => {
    expect(purgeUntil([ended(50, 'lit'), ended(90, 'cancelled')], { purgeSeconds: 45 })).toBe(135);
  });
  it('lasts a minute when the setup does not say (common practice)', () => {
    expect(purgeUntil([ended(90, 'lit')], {})).toBe(150);
  });
  it('is not needed before the first trial', () => {
    expect(purgeUntil([{ elapsedS: 1, kind: 'sweep-end', text: '' }], {})).toBeUndefined();
    expect(purgeLeft(undefined, 10)).toBe(0);
  });
  it('leaves nothing once it is over', () => {
    expect(purgeLeft(150, 149.5)).toBe(0.5);
    expect(purgeLeft(150, 151)).toBe(0);
  });
});

describe('a trial with the spark delayed 5 s of 10 s', () => {
  it.each([
    [0, 'gas-first'],
    [4.9, 'gas-first'],
    [5, 'spark-now'],
    [7.1, 'spark'],
    [10, 'over'],
  ] as const)('at %s s: %s', (elapsedS, phase) => expect(trialPhase(elapsedS, 5, 10)).toBe(phase));
  it('asks for the spark at once when it is not delayed', () => expect(trialPhase(0, 0, 10)).toBe('spark-now'));
});
