import { checkProfile } from '../../../../shared/instruments/check-profile.ts';
import { deriveProfile, type DerivedFormat } from '../../../../shared/instruments/derive/derive-profile.ts';
import { guessComma } from '../../../../shared/instruments/derive/line-tokens.ts';
import type { NumberSelection } from '../../../../shared/instruments/derive/selection.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Role } from '../../../../shared/model/reading.ts';
import { readNumber } from '../../../state/setup/read-number.ts';
import { addPointed, removeChannel, type Draft } from './draft.ts';
import { withoutEscapes } from './escapes.ts';
import { registerLine } from './register.ts';

/** How lines are read: derived from what was pointed at, or as in a loaded profile. */
export type LineReading = Pick<DerivedFormat, 'line' | 'channels'>;

export const commaMeaning = (draft: Draft, lines: readonly string[]) =>
  draft.comma ?? guessComma([...lines, ...draft.pointed.map(({ line }) => line)]);

/** `lines` are those shown; what was pointed at in a line that is no longer shown counts as well. Undefined: no reading found yet. */
export function lineReading(draft: Draft, lines: readonly string[]): LineReading | undefined {
  if (draft.pointed.length === 0) return draft.given;
  const all = [...new Set([...lines, ...draft.pointed.map(({ line }) => line)])];
  return deriveProfile(all, draft.pointed, draft.overload, commaMeaning(draft, lines))[0];
}

/**
 * The draft with `added` pointed at. What was pointed at for its role in other lines stays as further examples while one
 * reading fits them all; else the newest is right and the older ones were mistakes. `replaced` is the channel that was read there.
 */
export function pointAt(
  draft: Draft,
  added: NumberSelection,
  replaced: Role | undefined,
  lines: readonly string[],
): Draft {
  const before = replaced && replaced !== added.role ? removeChannel(draft, replaced) : draft;
  const after = addPointed(before, added);
  return lineReading(after, lines) ? after : addPointed(removeChannel(before, added.role), added);
}

export interface MakeProfileResult {
  /** Absent when something is missing or wrong. */
  profile?: Profile;
  /** What is missing or wrong, each a sentence. */
  problems: string[];
}

/** The profile that the draft describes. */
export function makeProfile(draft: Draft, reading: LineReading | undefined): MakeProfileResult {
  const problems: string[] = [];
  const number = (text: string, what: string, absent: number): number => {
    const value = readNumber(text) ?? absent;
    if (Number.isNaN(value)) problems.push(`${what}: "${text.trim()}" is not a number.`);
    return value;
  };
  const isRegister = draft.kind === 'registers';
  const isPolled = isRegister || draft.mode === 'poll';
  const send = withoutEscapes(draft.pollSend);
  if (isPolled && !isRegister && send === undefined)
    problems.push(
      'Poll text: a backslash must be followed by n, r, t, x and two hexadecimal digits, or another backslash.',
    );
  if (isPolled && !isRegister && send === '')
    problems.push('Enter the poll text, or choose that the meter sends continuously.');
  if (draft.name.trim() === '') problems.push('Enter a name for the profile.');
  if (!isRegister && !reading)
    problems.push(
      draft.pointed.length === 0
        ? 'Select a number in a line.'
        : 'No single rule reads everything you selected. Remove one selection, or change what the comma means.',
    );
  const scaled = (channel: { role: Profile['channels'][number]['role'] }) => ({
    ...channel,
    scale: number(draft.numbers[channel.role]?.scale ?? '', 'Scale', 1),
    offset: number(draft.numbers[channel.role]?.offset ?? '', 'Offset', 0),
  });
  const { role, unit } = draft.register;
  const channels = (isRegister ? [{ role, unit }] : (reading?.channels ?? [])).map(scaled);
  const percent = number(draft.accuracyPercent, 'Accuracy', 0);
  const absolute = number(draft.accuracyAbsolute, 'Accuracy', 0);
  const accuracyUnit = draft.accuracyUnit || (isRegister ? unit : reading?.channels[0]?.unit);
  const json = {
    name: draft.name.trim(),
    serial: {
      baudRate: number(draft.baudRate, 'Baud rate', 9600),
      dataBits: Number(draft.dataBits),
      parity: draft.parity,
      stopBits: Number(draft.stopBits),
    },
    mode: isPolled ? 'poll' : 'stream',
    ...(isPolled && {
      poll: { ...(!isRegister && { send }), everyMs: number(draft.pollEvery, 'Poll every', 500) },
    }),
    line: isRegister ? registerLine(draft.register) : reading?.line,
    channels,
    overload: draft.overload,
    ...((percent > 0 || absolute > 0) && { accuracy: { percentOfReading: percent, absolute, unit: accuracyUnit } }),
  };
  if (problems.length > 0) return { problems };
  const checked = checkProfile(json, json.name);
  return checked.ok ? { profile: checked.value, problems } : { problems: [checked.fault.message] };
}
