import { hasValidCrc } from './crc16.ts';

/** The longest frame, bytes: MODBUS over Serial Line V1.02, 2.5.1. */
export const maxFrameBytes = 256;

/** Bytes in the order in which they arrived: a valid frame, or what was before one. */
export interface FramePiece {
  bytes: Uint8Array;
  isFrame: boolean;
}

const isRead = (code: number): boolean => code === 3 || code === 4;
const isException = (code: number): boolean => code === 0x83 || code === 0x84;

/** The valid frame that begins at `at`, if there is one and it has arrived whole. */
function frameAt(bytes: Uint8Array, at: number): Uint8Array | undefined {
  const code = bytes[at + 1] ?? 0;
  const length = isRead(code) ? 5 + (bytes[at + 2] ?? 0) : isException(code) ? 5 : 0;
  if (length === 0 || at + length > bytes.length) return undefined;
  const frame = bytes.subarray(at, at + length);
  return hasValidCrc(frame) ? frame : undefined;
}

/**
 * Splits received bytes into whole frames and the bytes before and between them. `rest` may become a frame yet.
 * Nothing is lost: the pieces and the rest, one after the other, are the bytes.
 *
 * By the standard, silence marks where a frame begins. An operating system delivers bytes in lumps without the
 * silences, so a frame is recognized here by its length and its CRC; silence only ends what will never be a frame.
 */
export function splitFrames(bytes: Uint8Array): { pieces: FramePiece[]; rest: Uint8Array } {
  const pieces: FramePiece[] = [];
  let start = 0;
  for (let at = 0; at < bytes.length;) {
    const frame = frameAt(bytes, at);
    if (!frame) {
      at += 1;
      continue;
    }
    if (at > start) pieces.push({ bytes: bytes.subarray(start, at), isFrame: false });
    pieces.push({ bytes: frame, isFrame: true });
    at += frame.length;
    start = at;
  }
  return { pieces, rest: bytes.subarray(start) };
}
