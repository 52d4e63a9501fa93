// Arbitrary lines through every decoder: the properties of all of them, for the tests and for the benchmark.
import fc from 'fast-check';
import { textOf } from '../../electron/host/store/read/raw-bytes.ts';
import { createLineDecoder } from '../../shared/instruments/decode.ts';
import { maxLineLength } from '../../shared/instruments/decoded.ts';
import type { Decoded } from '../../shared/instruments/decode.ts';
import { readResponse, readingOfResponse } from '../../shared/instruments/modbus/response.ts';
import { withCrc } from '../../shared/instruments/modbus/crc16.ts';
import { splitFrames } from '../../shared/instruments/modbus/frames.ts';
import { toHex } from '../../shared/instruments/modbus/hex.ts';
import { requestsOf } from '../../shared/instruments/modbus/request.ts';
import { checkProfile } from '../../shared/instruments/check-profile.ts';
import type { Profile } from '../../shared/model/profile.ts';
import { flags } from '../../shared/model/reading.ts';

const two = [
  { role: 'pilot_pressure', unit: 'inH2O', field: 0, scale: 2, offset: -1 },
  { role: 'flame_signal', unit: 'V', field: 1 },
];
const all = [
  ...two,
  { role: 'damper_position', unit: 'percent', field: 2 },
  { role: 'ignition', unit: 'on', field: 3 },
];
const pattern = (text: string) => ({ line: { format: 'pattern', pattern: text }, channels: [two[0]] });
const registers = (more: object, ...channels: object[]) => ({
  mode: 'poll',
  poll: { everyMs: 100 },
  line: { format: 'modbus-rtu', unitId: 1, function: 3, address: 0, type: 'uint16', ...more },
  channels,
});

/** Every format, each in its variants that can go wrong. */
const profiles: Record<string, object> = {
  'number, pressure': { line: { format: 'number' }, channels: [two[0]] },
  'number, signal': { line: { format: 'number' }, channels: [two[1]] },
  'number, switch': { line: { format: 'number' }, channels: [all[3]] },
  'delimited, comma': { line: { format: 'delimited', delimiter: ',' }, channels: all },
  'delimited, blanks': { line: { format: 'delimited', delimiter: ' ' }, channels: all },
  'delimited, long': { line: { format: 'delimited', delimiter: '; \t;' }, channels: all },
  'pattern, plain': {
    line: { format: 'pattern', pattern: '(?<pilot_pressure>[-+.\\d]+).*?(?<flame_signal>\\S+)?$' },
    channels: two,
  },
  // The textbook cases on which a backtracking engine takes exponential or polynomial time.
  'pattern, (a+)+': pattern('^(?<pilot_pressure>(\\d+)+)$'),
  'pattern, (a|aa)+': pattern('^(?<pilot_pressure>(\\d|\\d\\d)+)$'),
  'pattern, (.*a){12}': pattern('^(?<pilot_pressure>(.*1){12})$'),
  'pattern, \\s+$': pattern('(?<pilot_pressure>\\d*)\\s+$'),
  'pattern, nested': pattern('^(?<pilot_pressure>((([-\\d]+)+)+)+)!'),
  scpi: { line: { format: 'scpi' }, channels: all },
  'modbus-rtu, one': registers({ type: 'float32' }, two[0]!),
  'modbus-rtu, four': registers(
    { wordOrder: 'little' },
    two[0]!,
    { ...two[1], address: 1, type: 'int16' },
    { ...all[2], address: 2, type: 'int32' },
    { ...all[3], address: 4, function: 4 },
  ),
};

export interface Reader {
  name: string;
  /** Decodes a line as the host does. */
  read(bytes: Uint8Array): Decoded[];
  /** What is wrong with the readings of these bytes; undefined when all is as documented. */
  faultIn(bytes: Uint8Array): string | undefined;
}

export const readers: Reader[] = Object.entries(profiles).map(([name, json]) => {
  const checked = checkProfile({ name, ...json }, name);
  if (!checked.ok) throw new Error(checked.fault.message);
  const profile = checked.value;
  const decode = createLineDecoder(profile);
  const faultIn = (bytes: Uint8Array) => {
    const { raw } = textOf(bytes);
    // The same bytes as halves of characters: text with lone surrogates, as a person may paste it.
    const wide = Buffer.from(bytes).toString('utf16le');
    return (
      lineFault(profile, raw, decode(raw)) ??
      lineFault(profile, wide, decode(wide)) ??
      (profile.line.format === 'modbus-rtu' ? framesFault(profile, bytes, decode) : undefined)
    );
  };
  return { name, read: (bytes) => decode(textOf(bytes).raw), faultIn };
});

/** The documented shape: NaN exactly when flagged, role and unit of one of the channels, each at most once, in order. */
function shapeFault(profile: Profile, readings: Decoded[]): string | undefined {
  let channel = -1;
  for (const reading of readings) {
    const { role, unit, value, flag, convertedFrom, ...more } = reading;
    const place = profile.channels.findIndex((one) => one.role === role);
    if (place <= channel) return `the reading of ${role} is not in its place`;
    channel = place;
    if (unit !== profile.channels[place]?.unit) return `${role} is in ${unit}`;
    if (typeof value !== 'number') return `${role} is a ${typeof value}`;
    if (Number.isNaN(value) !== (flag !== undefined)) return `${role} is ${value} with the flag ${flag}`;
    if (flag === undefined ? !Number.isFinite(value) : !flags.includes(flag)) return `${role} is ${value}, ${flag}`;
    if (convertedFrom !== undefined && (flag !== undefined || convertedFrom === '')) return `converted, yet ${flag}`;
    if (Object.keys(more).length > 0) return `${role} has more: ${Object.keys(more).join(', ')}`;
  }
  return undefined;
}

function lineFault(profile: Profile, line: string, readings: Decoded[]): string | undefined {
  if (line.trim() === '') return readings.length === 0 ? undefined : 'an empty line gave readings';
  if (readings.length === 0) return 'a line was ignored';
  if (line.length > maxLineLength) {
    const whole = readings.length === profile.channels.length;
    if (!whole || readings.some(({ flag }) => flag !== 'too-long')) return 'a line that is too long was read';
  }
  return shapeFault(profile, readings);
}

/** The same bytes as they would arrive over Modbus: as they are, with a valid CRC, and as hex text. */
function framesFault(profile: Profile, bytes: Uint8Array, decode: (line: string) => Decoded[]): string | undefined {
  const frame = withCrc([...bytes.subarray(0, 254)]);
  const { pieces, rest } = splitFrames(frame);
  const length = pieces.reduce((sum, piece) => sum + piece.bytes.length, rest.length);
  if (length !== frame.length) return 'bytes were lost in splitting frames';
  for (const request of requestsOf(profile))
    for (const some of [bytes, frame, ...pieces.map((piece) => piece.bytes)]) {
      const reading = readingOfResponse(readResponse(some, request), request, profile.overload);
      const fault = shapeFault(profile, [reading]);
      if (fault || reading.role !== request.channel.role) return fault ?? 'another channel was read';
    }
  const text = toHex(frame);
  return lineFault(profile, text, decode(text));
}

const ascii = (text: string): Uint8Array => Uint8Array.from(text, (char) => char.charCodeAt(0) & 0xff);
const utf8 = new TextEncoder();

/** The bytes of a lone surrogate, which are not valid UTF-8. */
const loneSurrogate = [0xed, 0xa0, 0xbd];

const digits = fc.stringMatching(/^[+-]?\d{0,12}[.,]?\d{0,12}(?:[eE][+-]?\d{0,4})?$/);
// prettier-ignore
const word = fc.constantFrom(
  'inH2O', 'mbar', 'mV', 'V', '%', '"WC', 'OL', '-OL', '----', 'HOLD', 'ON', 'off', 
  '9.9E37', '-9.9E37', '9.91E37', 'NaN', 'Infinity', '1e999', '-0', '1,234.5', '12:30', '\u2212', '\u00b5A', 
  '\ufeff', '\u0000', '\u2028', '\ud83d\ude00', '01 03 02 00 0A', '\r', '\n', '\t', ' ', ',', ';', '; \t;', '"', '#', '=', ':',
);
const nearlyNumbers = fc
  .array(fc.oneof(digits, word), { minLength: 1, maxLength: 8 })
  .map((parts) => utf8.encode(parts.join('')));
const anyBytes = fc.uint8Array({ maxLength: 40 });
const anyText = fc.string({ unit: 'binary', maxLength: 40 }).map((text) => utf8.encode(text));
const brokenUtf8 = fc
  .tuple(nearlyNumbers, fc.constantFrom(loneSurrogate, [0xc0, 0x80], [0xff], [0xe2, 0x82], [0xf5, 0x80]), anyBytes)
  .map(([a, b, c]) => Uint8Array.from([...a, ...b, ...c]));
/** Up to 10 kB, and around the longest line that is read. */
const longLines = fc
  .tuple(
    fc.oneof(digits, word, fc.constantFrom('1', '11 ', 'a', '1,', '-')),
    fc.constantFrom(250, 511, 512, 513, 10_000),
    nearlyNumbers,
  ) // prettier-ignore
  .map(([piece, length, end]) => {
    const run = piece === '' ? '0' : piece;
    return Uint8Array.from([...ascii(run.repeat(Math.ceil(length / run.length)).slice(0, length)), ...end]);
  });
const answers = fc
  .tuple(fc.constantFrom(1, 1, 1, 2), fc.constantFrom(3, 3, 4, 0x83), fc.constantFrom(2, 4, 4, 0), anyBytes)
  .map(([unit, code, count, data]) => Uint8Array.from([unit, code, count, ...data.subarray(0, count)]));

/** Lines of all kinds, weighted by how often they are drawn. */
export const anyLine: fc.Arbitrary<Uint8Array> = fc.oneof(
  { weight: 8, arbitrary: nearlyNumbers },
  { weight: 4, arbitrary: anyBytes },
  { weight: 3, arbitrary: anyText },
  { weight: 2, arbitrary: brokenUtf8 },
  { weight: 2, arbitrary: answers },
  { weight: 1, arbitrary: longLines },
);

/** A line as one can type it in again. */
export const inHex = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex');
