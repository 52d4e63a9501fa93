const newline = 0x0a;
const carriageReturn = 0x0d;

/** A run of bytes without line end is cut here, so that a wrong baud rate cannot fill the memory. */
export const longestRun = 65_536;

/** Makes one line end of the several that meters send, chunk by chunk. */
export interface LineEnds {
  /** The bytes with LF for each line end. After `longestRun` bytes without an end one is put in. */
  mark(chunk: Uint8Array): Buffer;
  /** How many bytes have come since the last line end. */
  run(): number;
  /** The run ends here without a line end. */
  cut(): void;
}

/**
 * Makes each line end LF or, where both are in one chunk, CR LF; what it gave comes out of another such as it is.
 *
 * Lines end in LF, CR LF or CR, and a meter may change its mind: a banner with CR LF, a stray LF of noise, then CR alone. So each CR
 * ends a line, at once, and an LF right behind it belongs to it.
 */
export function createReturnReader(): (chunk: Uint8Array) => Buffer {
  let afterReturn = false;
  return (chunk) => {
    const bytes = Buffer.from(chunk);
    const begin = afterReturn && bytes[0] === newline ? 1 : 0;
    if (bytes.length > 0) afterReturn = bytes.at(-1) === carriageReturn;
    for (let at = bytes.indexOf(carriageReturn, begin); at >= 0; at = bytes.indexOf(carriageReturn, at + 1))
      if (bytes[at + 1] !== newline) bytes[at] = newline;
    return bytes.subarray(begin);
  };
}

/** Marks the line ends of one connection's bytes with LF, for the line parser. */
export function createLineEnds(): LineEnds {
  let run = 0;
  const unified = createReturnReader();

  return {
    mark(chunk) {
      const bytes = unified(chunk);
      if (run + bytes.length < longestRun) {
        const last = bytes.lastIndexOf(newline);
        run = last < 0 ? run + bytes.length : bytes.length - 1 - last;
        return bytes;
      }
      const out: number[] = [];
      for (const byte of bytes) {
        out.push(byte);
        run = byte === newline ? 0 : run + 1;
        if (run < longestRun) continue;
        out.push(newline);
        run = 0;
      }
      return Buffer.from(out);
    },
    run: () => run,
    cut: () => (run = 0),
  };
}
