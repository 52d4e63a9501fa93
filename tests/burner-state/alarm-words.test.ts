import { expect, it } from 'vitest';
import { alarmFault, lastingAlarmFault } from '../../shared/burner-state/permissions.ts';

const dark = { sinceS: 40, unlitFromS: 31 };
const back = { ...dark, unlitToS: 45 };

it('a flame that burns again is said to, with the time that gas was unlit, whatever the alarm was called', () => {
  expect(alarmFault({ kind: 'flame-lost', ...back }).message).toMatch(/^Flame is back; gas was unlit for 14 s\. Shut/u);
  expect(alarmFault({ kind: 'gas-unlit', ...back }).message).toMatch(
    /^Flame burns now; gas was unlit for 14 s\. Shut the gas now/u,
  );
  // Nobody knows whether it was unlit.
  expect(alarmFault({ kind: 'gas-unlit', flameUnseen: true, ...back }).message).toMatch(
    /^Flame burns now; no meter showed it for 14 s\. Shut/u,
  );
  expect(alarmFault({ kind: 'flame-lost', gasUnseen: true, ...back }).code).toBe('flame-returned');
});

it('no alarm is said to be less than it is while it is dark, nor one that a flame does not answer', () => {
  expect(alarmFault({ kind: 'flame-lost', ...dark }).code).toBe('flame-lost');
  expect(alarmFault({ kind: 'gas-unlit', ...dark }).code).toBe('gas-unlit');
  expect(alarmFault({ kind: 'not-shut', ...back }).code).toBe('gas-not-shut');
  expect(alarmFault({ kind: 'gas-unlit', interrupted: true, ...back }).code).toBe('gas-was-unlit');
});

it('gas beyond the trial time while no meter shows the flame is not said to be unlit', () =>
  expect(alarmFault({ kind: 'gas-unlit', sinceS: 0, flameUnseen: true }).code).toBe('flame-unseen'));

it('a flame that went out while the manometer cannot show the gas is said to leave gas that may flow', () => {
  for (const kind of ['flame-lost', 'gas-unlit'] as const)
    expect(alarmFault({ kind, sinceS: 0, gasUnseen: true }).code).toBe('gas-may-flow');
});

it('what ends an alarm is said once it has lasted, where the manometer reads something that can be entered', () => {
  const alarm = { kind: 'flame-lost', ...dark } as const;
  const seen = { isPressureSeen: true, isFanOnlyEntered: false };
  expect(lastingAlarmFault(alarm, 50, seen)).toBeUndefined();
  expect(lastingAlarmFault(alarm, 51, seen)).toMatchObject({
    code: 'alarm-lasts',
    message: expect.stringMatching(/manual gas cock.*fan-only pressure/u) as string,
  });
  expect(lastingAlarmFault(alarm, 61, { ...seen, isPressureSeen: false })).toBeUndefined();
  expect(lastingAlarmFault({ ...alarm, interrupted: true }, 61, seen)).toBeUndefined();
});

it('a pressure that stays above the fan-only pressure entered is a leak, and nobody is told to enter it', () => {
  const found = lastingAlarmFault({ kind: 'flame-lost', ...dark }, 61, {
    isPressureSeen: true,
    isFanOnlyEntered: true,
  });
  expect(found?.code).toBe('alarm-lasts-leak');
  expect(found?.message).toContain('it may leak');
  expect(found?.message).not.toContain('under Burner');
});
