const newline = 0x0a;
const carriageReturn = 0x0d;

/** A run of bytes without line ending is cut at this length, so that a wrong baud rate cannot fill the memory. */
export const maxRunBytes = 65_536;

/** Prepares bytes for a parser that splits lines at LF, chunk by chunk. */
export interface LineDelimiter {
  /** The bytes with LF for each line ending. After `maxRunBytes` bytes without one, an LF is inserted. */
  delimit(chunk: Uint8Array): Buffer;
  /** How many bytes have come since the last line ending. */
  runLength(): number;
  /** Restarts the count: the run was cut without a line ending. */
  reset(): void;
}

/**
 * Makes each line ending LF or, where both are in one chunk, CR LF. Its output passes through another normalizer unchanged.
 *
 * Lines end in LF, CR LF or CR, and a meter may mix them: a banner with CR LF, a stray LF of noise, then CR alone. So each CR
 * ends a line, at once, and an LF right behind it belongs to it.
 */
export function createLineEndingNormalizer(): (chunk: Uint8Array) => Buffer {
  let afterReturn = false;
  return (chunk) => {
    const bytes = Buffer.from(chunk);
    const start = afterReturn && bytes[0] === newline ? 1 : 0;
    if (bytes.length > 0) afterReturn = bytes.at(-1) === carriageReturn;
    for (let at = bytes.indexOf(carriageReturn, start); at >= 0; at = bytes.indexOf(carriageReturn, at + 1))
      if (bytes[at + 1] !== newline) bytes[at] = newline;
    return bytes.subarray(start);
  };
}

/** Delimits the lines of one connection's bytes with LF, for the line parser. */
export function createLineDelimiter(): LineDelimiter {
  let runLength = 0;
  const normalize = createLineEndingNormalizer();

  return {
    delimit(chunk) {
      const bytes = normalize(chunk);
      if (runLength + bytes.length < maxRunBytes) {
        const last = bytes.lastIndexOf(newline);
        runLength = last < 0 ? runLength + bytes.length : bytes.length - 1 - last;
        return bytes;
      }
      const out: number[] = [];
      for (const byte of bytes) {
        out.push(byte);
        runLength = byte === newline ? 0 : runLength + 1;
        if (runLength < maxRunBytes) continue;
        out.push(newline);
        runLength = 0;
      }
      return Buffer.from(out);
    },
    runLength: () => runLength,
    reset: () => (runLength = 0),
  };
}
