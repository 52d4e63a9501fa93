import { expect, it } from 'vitest';
import type { Moment } from '../../shared/burner-state/chain/label.ts';
import { alarmWords } from '../../shared/burner-state/permissions.ts';
import type { BurnerNow } from '../../shared/burner-state/tracker.ts';

const codeWith = (kind: 'flame-lost' | 'gas-unlit' | 'not-shut', flame: Moment['flame']) =>
  alarmWords({ kind, sinceS: 0 }, { moment: { gas: 'flowing', flame } } as BurnerNow).code;

it('a flame that was lost and burns again is said to have come back, and no other alarm is', () => {
  expect(codeWith('flame-lost', 'burning')).toBe('flame-returned');
  for (const flame of ['dark', 'lost', 'lighting', 'unknown'] as const)
    expect(codeWith('flame-lost', flame)).toBe('flame-lost');
  expect(codeWith('gas-unlit', 'burning')).toBe('gas-unlit');
  expect(codeWith('not-shut', 'burning')).toBe('gas-not-shut');
});

it('gas beyond the trial time while no meter shows the flame is not said to be unlit', () =>
  expect(alarmWords({ kind: 'gas-unlit', sinceS: 0, flameUnseen: true }, undefined).code).toBe('flame-unseen'));

it('a flame that went out while the manometer cannot show the gas is said to leave gas that may flow', () => {
  for (const kind of ['flame-lost', 'gas-unlit'] as const)
    expect(alarmWords({ kind, sinceS: 0, gasUnseen: true }, undefined).code).toBe('gas-may-flow');
});
