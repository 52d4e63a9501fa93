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
