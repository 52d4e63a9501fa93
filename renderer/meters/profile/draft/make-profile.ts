import { checkProfile } from '../../../../shared/instruments/check-profile.ts';
import { deriveProfile, type Derived } from '../../../../shared/instruments/derive-profile.ts';
import { guessComma } from '../../../../shared/instruments/line-parts.ts';
import type { Pointed } from '../../../../shared/instruments/pointed.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Role } from '../../../../shared/model/reading.ts';
import { readNumber } from '../../../state/setup-fields.ts';
import { forget, point, type Draft } from './draft.ts';
import { withoutEscapes } from './escapes.ts';
import { registerLine } from './register.ts';

/** How the lines are read: derived from what was pointed at, or as a loaded profile says; undefined: not at all yet. */
export type Way = Pick<Derived, 'line' | 'channels'>;

export const commaOf = (draft: Draft, lines: readonly string[]) =>
  draft.comma ?? guessComma([...lines, ...draft.pointed.map(({ line }) => line)]);

/** `lines` are those at hand; what was pointed at in a line that has gone by counts as well. */
export function wayOf(draft: Draft, lines: readonly string[]): Way | undefined {
  if (draft.pointed.length === 0) return draft.given;
  const all = [...new Set([...lines, ...draft.pointed.map(({ line }) => line)])];
  return deriveProfile(all, draft.pointed, draft.overload, commaOf(draft, lines))[0];
}

/**
 * The draft with `place` pointed at. A role that was pointed at in other lines keeps those as further examples as long as one
 * way reads them all; else the newest is right and the older were mistakes. `instead` is the channel that was read there.
 */
export function pointAt(draft: Draft, place: Pointed, instead: Role | undefined, lines: readonly string[]): Draft {
  const before = instead && instead !== place.role ? forget(draft, instead) : draft;
  const added = point(before, place);
  return wayOf(added, lines) ? added : point(forget(before, place.role), place);
}

export interface Made {
  /** Absent when something is missing or wrong. */
  profile?: Profile;
  /** What is missing or wrong, each a sentence. */
  problems: string[];
}

/** The profile that the draft stands for. */
export function makeProfile(draft: Draft, way: Way | undefined): Made {
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
    problems.push(String.raw`What is sent: after a backslash only n, r, t, x with two digits, or another backslash.`);
  if (isPolled && !isRegister && send === '') problems.push('Say what is sent to the meter, or let it send by itself.');
  if (draft.name.trim() === '') problems.push('Give the profile a name.');
  if (!isRegister && !way)
    problems.push(
      draft.pointed.length === 0
        ? 'Point at a number.'
        : 'No one way reads all that was pointed at. Take one of them away, or say what a comma is.',
    );
  const scaled = (channel: { role: Profile['channels'][number]['role'] }) => ({
    ...channel,
    scale: number(draft.numbers[channel.role]?.scale ?? '', 'Scale', 1),
    offset: number(draft.numbers[channel.role]?.offset ?? '', 'Offset', 0),
  });
  const { role, unit } = draft.register;
  const channels = (isRegister ? [{ role, unit }] : (way?.channels ?? [])).map(scaled);
  const percent = number(draft.accuracyPercent, 'Accuracy', 0);
  const absolute = number(draft.accuracyAbsolute, 'Accuracy', 0);
  const accuracyUnit = draft.accuracyUnit || (isRegister ? unit : way?.channels[0]?.unit);
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
      poll: { ...(!isRegister && { send }), everyMs: number(draft.pollEvery, 'Every', 500) },
    }),
    line: isRegister ? registerLine(draft.register) : way?.line,
    channels,
    overload: draft.overload,
    ...((percent > 0 || absolute > 0) && { accuracy: { percentOfReading: percent, absolute, unit: accuracyUnit } }),
  };
  if (problems.length > 0) return { problems };
  const checked = checkProfile(json, json.name);
  return checked.ok ? { profile: checked.value, problems } : { problems: [checked.fault.message] };
}
