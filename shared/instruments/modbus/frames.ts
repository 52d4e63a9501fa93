import { hasGoodCrc } from './crc16.ts';

/** The longest frame there is: MODBUS over Serial Line V1.02, 2.5.1. */
export const longestFrame = 256;

/** Bytes in the order in which they arrived: a sound frame, or what lay before one. */
export interface Piece {
  bytes: Uint8Array;
  sound: boolean;
}

const isRead = (code: number): boolean => code === 3 || code === 4;
const isRefusal = (code: number): boolean => code === 0x83 || code === 0x84;

/** The sound frame that begins at `at`, if one does and has arrived whole. */
function frameAt(bytes: Uint8Array, at: number): Uint8Array | undefined {
  const code = bytes[at + 1] ?? 0;
  const length = isRead(code) ? 5 + (bytes[at + 2] ?? 0) : isRefusal(code) ? 5 : 0;
  if (length === 0 || at + length > bytes.length) return undefined;
  const frame = bytes.subarray(at, at + length);
  return hasGoodCrc(frame) ? frame : undefined;
}

/**
 * Takes the whole frames out of what has arrived, together with what lies before and between them. `rest` may become a
 * frame yet. Nothing is lost: the pieces and the rest, one after the other, are the bytes.
 *
 * By the standard silence tells where a frame begins. An operating system hands bytes over in lumps and forgets the
 * silences, so a frame is known here by its length and its check sum; silence only ends what will never be one.
 */
export function takeFrames(bytes: Uint8Array): { pieces: Piece[]; rest: Uint8Array } {
  const pieces: Piece[] = [];
  let start = 0;
  for (let at = 0; at < bytes.length;) {
    const frame = frameAt(bytes, at);
    if (!frame) {
      at += 1;
      continue;
    }
    if (at > start) pieces.push({ bytes: bytes.subarray(start, at), sound: false });
    pieces.push({ bytes: frame, sound: true });
    at += frame.length;
    start = at;
  }
  return { pieces, rest: bytes.subarray(start) };
}
