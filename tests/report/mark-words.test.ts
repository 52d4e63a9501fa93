import { expect, it } from 'vitest';
import { alarmKinds } from '../../shared/burner-state/alarms.ts';
import { alarmFault } from '../../shared/burner-state/permissions.ts';
import { alarmWordsOf, markWords } from '../../shared/report/mark-words.ts';

const alarms = [
  ...alarmKinds.map((kind) => ({ kind, sinceS: 0 })),
  { kind: 'gas-unlit' as const, sinceS: 0, flameUnseen: true as const },
  { kind: 'flame-lost' as const, sinceS: 0, gasUnseen: true as const },
];

it.each(alarms)('the mark of an alarm has the name under which it is shown, and says what to do: %j', (alarm) => {
  const { message } = alarmFault(alarm);
  const { heading, rest } = alarmWordsOf(message);
  expect(markWords({ kind: alarm.kind, text: message })).toEqual({ name: heading, text: rest });
  expect(`${heading}. ${rest}`).toBe(message);
  // It is read from across the room.
  expect(heading.length).toBeLessThanOrEqual(32);
  expect(rest).toMatch(/shut the gas/iu);
});

it('nothing is called lost of a flame that nobody has seen', () =>
  expect(alarmWordsOf(alarmFault(alarms[3]!).message).heading).toBe('Gas on, no meter shows a flame'));

it('other marks have the name of their kind, and an alarm without a sentence too', () => {
  expect(markWords({ kind: 'note', text: 'Damper. Open.' })).toEqual({ name: 'Note', text: 'Damper. Open.' });
  expect(markWords({ kind: 'gas-unlit', text: '' })).toEqual({ name: 'Gas on, no flame', text: '' });
});
