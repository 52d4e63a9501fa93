/** Notices a meter that sends more lines than can be stored one by one. */
export interface FloodDetector {
  /** Counts the line endings of bytes that arrived at `atMs`, monotonic; true once there are too many. */
  add(bytes: Uint8Array, atMs: number): boolean;
}

const newline = 0x0a;
const carriageReturn = 0x0d;

/**
 * More line endings than this in one period are a flood: 20 000 a second, for seconds. Two fast meters send 40 lines a second; a burst of
 * 150 000 lines is still read.
 */
const maxLines = 200_000;
const periodMs = 10_000;

export function createFloodDetector(): FloodDetector {
  let sinceMs = -Infinity;
  let lines = 0;
  let afterReturn = false;
  return {
    add(bytes, atMs) {
      if (atMs - sinceMs > periodMs) {
        sinceMs = atMs;
        lines = 0;
      }
      for (const byte of bytes) {
        if (byte === carriageReturn || (byte === newline && !afterReturn)) lines += 1;
        afterReturn = byte === carriageReturn;
      }
      return lines > maxLines;
    },
  };
}
