import type { RegisterLine } from '../../model/profile.ts';
import type { Decoded } from '../decoded.ts';
import { flagged, readingOf } from '../decoded.ts';
import { hasValidCrc } from './crc16.ts';
import type { RegisterRequest } from './request.ts';

/** A frame as the response to a request. */
export type RegisterResponse =
  | { kind: 'registers'; data: Uint8Array }
  | { kind: 'exception'; code: number }
  /** Cut short, or its checksum is wrong. */
  | { kind: 'damaged' }
  /** Valid, but from another unit or to another request. */
  | { kind: 'foreign'; unitId: number };

const exceptionBit = 0x80;
const exceptionLength = 5;

/** Reads a frame as the response to `request`. Never throws, whatever the bytes. */
export function readResponse(frame: Uint8Array, request: RegisterRequest): RegisterResponse {
  if (frame.length < exceptionLength || !hasValidCrc(frame)) return { kind: 'damaged' };
  const [unitId = 0, code = 0, third = 0] = frame;
  const foreign: RegisterResponse = { kind: 'foreign', unitId };
  if (unitId !== request.unitId) return foreign;
  if (code === (request.function | exceptionBit))
    return frame.length === exceptionLength ? { kind: 'exception', code: third } : foreign;
  const size = 2 * request.count;
  if (code !== request.function || third !== size || frame.length !== 5 + size) return foreign;
  return { kind: 'registers', data: frame.subarray(3, 3 + size) };
}

/** Exception codes of MODBUS Application Protocol V1.1b3, section 7, in words for the technician. */
const exceptions = new Map([
  [1, 'it does not know this function'],
  [2, 'it has no register at this address'],
  [3, 'it does not accept this number of registers'],
  [4, 'it has failed'],
  [5, 'it needs more time'],
  [6, 'it is busy'],
  [8, 'its memory is damaged'],
  [10, 'the gateway has no path to it'],
  [11, 'the gateway got no answer from it'],
]);

/** An exception code in words, as part of a sentence. */
export const exceptionText = (code: number): string => exceptions.get(code) ?? 'for a reason of its own';

/** The number in the registers' bytes: two's complement, or IEEE 754 single precision, which may be NaN or infinite. */
export function registerNumber(
  data: Uint8Array,
  type: RegisterLine['type'],
  wordOrder: RegisterLine['wordOrder'],
): number {
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
 * The reading of the requested channel; flagged unless the response is registers with a number in them.
 * An overload token that is a number ("32767") is the register value by which the meter reports overload.
 */
export function readingOfResponse(
  response: RegisterResponse,
  request: RegisterRequest,
  overload: readonly string[],
): Decoded {
  const { channel, type, wordOrder } = request;
  if (response.kind !== 'registers') return flagged(channel, 'unreadable');
  const number = registerNumber(response.data, type, wordOrder);
  if (overload.includes(String(number))) return flagged(channel, 'overload');
  return readingOf(channel, number);
}
