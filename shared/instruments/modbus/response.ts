import type { RegisterLine } from '../../model/profile.ts';
import type { Decoded } from '../decoded.ts';
import { flagged, readingOf } from '../decoded.ts';
import { hasGoodCrc } from './crc16.ts';
import type { RegisterRequest } from './request.ts';

/** What a frame says to a request. */
export type Answer =
  | { kind: 'registers'; data: Uint8Array }
  | { kind: 'exception'; code: number }
  /** Cut short, or its check sum is wrong. */
  | { kind: 'damaged' }
  /** Sound, but from another unit or to another question. */
  | { kind: 'foreign'; unitId: number };

const exceptionBit = 0x80;
const exceptionLength = 5;

/** Reads a frame as the answer to `request`. Never throws, whatever the bytes. */
export function readAnswer(frame: Uint8Array, request: RegisterRequest): Answer {
  if (frame.length < exceptionLength || !hasGoodCrc(frame)) return { kind: 'damaged' };
  const [unitId = 0, code = 0, third = 0] = frame;
  const foreign: Answer = { kind: 'foreign', unitId };
  if (unitId !== request.unitId) return foreign;
  if (code === (request.function | exceptionBit))
    return frame.length === exceptionLength ? { kind: 'exception', code: third } : foreign;
  const size = 2 * request.count;
  if (code !== request.function || third !== size || frame.length !== 5 + size) return foreign;
  return { kind: 'registers', data: frame.subarray(3, 3 + size) };
}

/** MODBUS Application Protocol V1.1b3, section 7, in words for the technician. */
const exceptions = new Map([
  [1, 'it does not know this function'],
  [2, 'it has no register at this address'],
  [3, 'it does not take this number of registers'],
  [4, 'it has failed'],
  [5, 'it needs more time'],
  [6, 'it is busy'],
  [8, 'its memory is damaged'],
  [10, 'the gateway has no way to it'],
  [11, 'the gateway got no answer from it'],
]);

export const exceptionInWords = (code: number): string => exceptions.get(code) ?? 'for a reason of its own';

/** The number in the registers' bytes. Two's complement; IEEE 754 single precision, which may be NaN or infinite. */
export function numberIn(data: Uint8Array, type: RegisterLine['type'], wordOrder: RegisterLine['wordOrder']): number {
  const [a = 0, b = 0, c = 0, d = 0] = data;
  const view = new DataView(Uint8Array.from(wordOrder === 'little' ? [c, d, a, b] : [a, b, c, d]).buffer);
  switch (type) {
    case 'int16':
      return new DataView(Uint8Array.of(a, b).buffer).getInt16(0);
    case 'uint16':
      return new DataView(Uint8Array.of(a, b).buffer).getUint16(0);
    case 'int32':
      return view.getInt32(0);
    case 'float32':
      return view.getFloat32(0);
  }
}

/**
 * The reading of the channel that was asked for. Flagged for everything but registers with a number in them.
 * An overload token that is a number ("32767") is what the meter puts into its registers for beyond its range.
 */
export function readingIn(answer: Answer, request: RegisterRequest, overload: readonly string[]): Decoded {
  const { channel, type, wordOrder } = request;
  if (answer.kind !== 'registers') return flagged(channel, 'unreadable');
  const given = numberIn(answer.data, type, wordOrder);
  if (overload.includes(String(given))) return flagged(channel, 'overload');
  return readingOf(channel, given);
}
