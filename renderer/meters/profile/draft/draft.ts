import type { NumberSelection } from '../../../../shared/instruments/derive/selection.ts';
import type { CommaMeaning } from '../../../../shared/instruments/derive/line-tokens.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Role, Unit } from '../../../../shared/model/reading.ts';
import { withEscapes } from './escapes.ts';
import { emptyRegister, registerOfProfile, type RegisterFields } from './register.ts';

/** A profile being edited: the fields as typed, and what was pointed at. */
export interface Draft {
  name: string;
  baudRate: string;
  dataBits: '7' | '8';
  parity: 'none' | 'even' | 'odd';
  stopBits: '1' | '2';
  mode: 'stream' | 'poll';
  /** What is sent, in the notation of escapes.ts. */
  pollSend: string;
  pollEvery: string;
  /** `lines` are read from what was pointed at; `registers` are requested by their number (Modbus RTU). */
  kind: 'lines' | 'registers';
  register: RegisterFields;
  lines: string[];
  /** What a comma means; undefined: guessed from the lines. */
  comma: CommaMeaning | undefined;
  pointed: NumberSelection[];
  /** How a loaded profile reads its lines, until something else is pointed at. */
  given: Pick<Profile, 'line' | 'channels'> | undefined;
  numbers: Partial<Record<Role, { scale: string; offset: string }>>;
  overload: string[];
  accuracyPercent: string;
  accuracyAbsolute: string;
  accuracyUnit: string;
}

export const emptyDraft: Draft = {
  name: '',
  baudRate: '9600',
  dataBits: '8',
  parity: 'none',
  stopBits: '1',
  mode: 'stream',
  pollSend: String.raw`READ?\n`,
  pollEvery: '500',
  kind: 'lines',
  register: emptyRegister,
  lines: [],
  comma: undefined,
  pointed: [],
  given: undefined,
  numbers: {},
  overload: ['OL', '-OL', '----'],
  accuracyPercent: '',
  accuracyAbsolute: '',
  accuracyUnit: '',
};

/** Lines shown: enough to see how a meter's lines vary, few enough to look through. */
export const maxLines = 40;

/** The lines of a text that are not blank; line ends of every kind. */
export const linesOf = (text: string): string[] =>
  text
    .split(/\r\n|\n|\r/)
    .filter((line) => line.trim() !== '')
    .slice(0, maxLines);

/** The draft of an existing profile, with the present lines. */
export function draftOf(profile: Profile, lines: string[]): Draft {
  const { serial, mode, poll, line, channels, overload, accuracy } = profile;
  const register = registerOfProfile(profile);
  return {
    ...emptyDraft,
    name: profile.name,
    baudRate: String(serial.baudRate),
    dataBits: serial.dataBits === 7 ? '7' : '8',
    parity: serial.parity,
    stopBits: serial.stopBits === 2 ? '2' : '1',
    mode,
    ...(poll && { pollSend: withEscapes(poll.send ?? ''), pollEvery: String(poll.everyMs) }),
    ...(register ? { kind: 'registers' as const, register } : { given: { line, channels } }),
    lines,
    numbers: Object.fromEntries(
      channels.map(({ role, scale, offset }) => [role, { scale: String(scale), offset: String(offset) }]),
    ),
    overload: [...overload],
    ...(accuracy && {
      accuracyPercent: String(accuracy.percentOfReading),
      accuracyAbsolute: String(accuracy.absolute),
      accuracyUnit: accuracy.unit,
    }),
  };
}

/** The draft with `added` pointed at; it replaces what was pointed at there, and for the same channel in that line. */
export function addPointed(draft: Draft, added: NumberSelection): Draft {
  const others = draft.pointed
    .filter((one) => one.line !== added.line || (one.from !== added.from && one.role !== added.role))
    .map((one) => (one.role === added.role ? { ...one, unit: added.unit } : one));
  return { ...draft, given: undefined, pointed: [...others, added] };
}

/** The draft without the channel. */
export const removeChannel = (draft: Draft, role: Role): Draft => ({
  ...draft,
  pointed: draft.pointed.filter((one) => one.role !== role),
  given: without(draft.given, role),
});

const without = (given: Draft['given'], role: Role): Draft['given'] => {
  const channels = given?.channels.filter((channel) => channel.role !== role) ?? [];
  return given && channels.length > 0 ? { ...given, channels } : undefined;
};

/** The draft with another unit for the channel. */
export const changeUnit = (draft: Draft, role: Role, unit: Unit): Draft => ({
  ...draft,
  pointed: draft.pointed.map((one) => (one.role === role ? { ...one, unit } : one)),
  given: draft.given && {
    ...draft.given,
    channels: draft.given.channels.map((channel) => (channel.role === role ? { ...channel, unit } : channel)),
  },
});
