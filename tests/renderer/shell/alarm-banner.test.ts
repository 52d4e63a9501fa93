import { expect, it, vi } from 'vitest';
import { AlarmBanner } from '../../../renderer/shell/AlarmBanner.tsx';
import type { BurnerView } from '../../../shared/contract/api.ts';

type Alarm = NonNullable<BurnerView['alarm']>;
const told = vi.hoisted(() => ({ alarm: undefined as Alarm | undefined }));
vi.mock('../../../renderer/state/connection.ts', () => ({ useConnection: () => 'connected' }));
vi.mock('../../../renderer/state/live/burner-state.ts', () => ({ useBurnerState: () => told }));
vi.mock('../../../renderer/shell/alarm-sound.ts', () => ({ useAlarmSound: vi.fn() }));

/** What React tells one alarm from another by: with it goes the mute of the one before. */
const keyOf = (alarm: Alarm) => {
  told.alarm = alarm;
  return AlarmBanner()?.key;
};
const lost: Alarm = { kind: 'flame-lost', count: 1, forS: 3, message: 'Flame lost, gas on. Shut the gas now.' };

it.each<[string, Alarm, Alarm]>([
  ['a flame lost again', lost, { ...lost, count: 2 }],
  ['a flame lost after the valve that did not shut was opened', { ...lost, kind: 'not-shut' }, lost],
  ['what the meters show now after what they showed before a cut', { ...lost, interrupted: true }, lost],
])('another alarm sounds although the one before was muted: %s', (_what, before, after) =>
  expect(keyOf(after)).not.toBe(keyOf(before)),
);

it('an alarm that was muted stays so while it goes on, in other words too', () =>
  expect(keyOf({ ...lost, forS: 9, isLit: true, message: 'Flame is back; gas was unlit for 3 s.' })).toBe(keyOf(lost)));
