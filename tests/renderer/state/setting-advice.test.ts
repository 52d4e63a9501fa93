import { describe, expect, it } from 'vitest';
import { held } from '../held-pilot.ts';
import { settingAdvice, withheldSetPoint } from '../../../renderer/set/setting-advice.ts';
import { withoutHost } from '../../../renderer/state/live/without-host.ts';
import { isProvedNow } from '../../../renderer/ui/visit/live-words.ts';

const alarm = { kind: 'flame-lost' as const, forS: 3, message: 'Flame lost, gas is on.' };

describe('the guide to the set point', () => {
  it('says which way to turn only once the host has said that gas flows and a flame burns', () => {
    expect(settingAdvice(held, 'recording')).toEqual({ mayTurn: true });
    // Without a recording the burner is the same burner.
    expect(settingAdvice(held, undefined)).toEqual({ mayTurn: true });
    expect(settingAdvice(undefined, 'recording')).toMatchObject({
      mayTurn: false,
      why: expect.stringMatching(/not known/u),
    });
  });

  it('says nothing of turning while the flame signal is blank', () => {
    expect(settingAdvice(held, 'recording', { isSignalBlank: true })).toMatchObject({
      mayTurn: false,
      why: expect.stringMatching(/flame signal meter gives no reading/u),
    });
  });

  it('gives the reason of the host, recording or not', () => {
    const refused = { ...held, settingRefusal: { code: 'gas-shut', message: 'The pilot gas is shut.' } };
    for (const status of ['recording', 'interrupted', undefined] as const)
      expect(settingAdvice(refused, status)).toEqual({ mayTurn: false, why: 'The pilot gas is shut.' });
  });

  it('does not lead to the set point of a capture that is not being recorded: the meters may be on another burner', () => {
    expect(settingAdvice(held, 'interrupted')).toMatchObject({
      mayTurn: false,
      why: expect.stringMatching(/not being recorded/u),
    });
  });

  it('does not lead to a set point where light-off trials lit and failed, nor hide another reason behind that', () => {
    expect(settingAdvice(held, 'recording', { withheld: 'unclear' })).toMatchObject({
      mayTurn: false,
      why: expect.stringMatching(/lit and failed at the same pressure/u),
    });
    const refused = { ...held, settingRefusal: { code: 'gas-shut', message: 'The pilot gas is shut.' } };
    expect(settingAdvice(refused, 'recording', { withheld: 'unclear' })).toEqual({
      mayTurn: false,
      why: 'The pilot gas is shut.',
    });
    expect(settingAdvice(held, 'complete', { withheld: 'unclear' })).toEqual({ mayTurn: false });
  });

  it('leads nowhere while the set point is being calculated or a sweep that it follows from is not over', () => {
    const still = { isSweeping: false, isCalculating: false, isUnclear: false };
    expect(withheldSetPoint(still)).toBeUndefined();
    for (const [facts, words] of [
      [{ ...still, isCalculating: true }, /Calculating/u],
      [{ ...still, isSweeping: true, isCalculating: true }, /sweep is being recorded/u],
    ] as const)
      expect(settingAdvice(held, 'recording', { withheld: withheldSetPoint(facts) })).toMatchObject({
        mayTurn: false,
        why: expect.stringMatching(words),
      });
  });

  it('is silent in a visit that is complete', () => {
    expect(settingAdvice(held, 'complete')).toEqual({ mayTurn: false });
  });
});

describe('when the connection to the host is lost', () => {
  it('nothing is known of the burner anymore, so nothing may be turned and nothing is good', () => {
    const lost = withoutHost(held, 0);
    expect([lost.gas, lost.flame, lost.regulator, lost.phase]).toEqual(['unknown', 'unknown', 'unknown', 'unknown']);
    expect(settingAdvice(lost, 'recording')).toMatchObject({ mayTurn: false });
    expect(isProvedNow(lost)).toBe(false);
  });

  it('an alarm stays: nobody has said that gas is shut', () => {
    expect(withoutHost({ ...held, alarm }, 0).alarm).toEqual(alarm);
  });

  it('a flame that came back is not said to burn', () => {
    const back = { ...alarm, isLit: true as const, message: 'Flame is back; gas was unlit for 3 s.' };
    expect(withoutHost({ ...held, alarm: back }, 0).alarm?.message).toMatch(/^Flame lost, gas on\./u);
  });
});
