const newline = 0x0a;
const carriageReturn = 0x0d;

/** A run of bytes without line end is cut here, so that a wrong baud rate cannot fill the memory. */
export const longestRun = 65_536;

/**
 * Marks the line ends of a byte stream with LF for the line parser, chunk by chunk.
 *
 * - LF stays, and so does the CR of a CR LF: the line reader takes it off.
 * - A CR alone is a line end as long as the stream has never sent an LF; once it has, a lone CR is part of a line.
 * - After `longestRun` bytes without an end one is put in.
 */
export function createLineEnds(): (chunk: Uint8Array) => Buffer {
  let run = 0;
  let knowsNewline = false;
  let afterReturn = false;
  return (chunk) => {
    const out: number[] | undefined = needsWork(chunk, run, knowsNewline, afterReturn) ? [] : undefined;
    if (!out) {
      const last = chunk.lastIndexOf(newline);
      run = last < 0 ? run + chunk.length : chunk.length - 1 - last;
      return Buffer.from(chunk.buffer, chunk.byteOffset, chunk.byteLength);
    }
    for (const byte of chunk) {
      if (byte === newline) {
        knowsNewline = true;
        if (!afterReturn) out.push(newline); // else its line has been ended by the CR just before
        run = 0;
        afterReturn = false;
        continue;
      }
      afterReturn = false;
      if (byte === carriageReturn && !knowsNewline) {
        out.push(newline);
        run = 0;
        afterReturn = true;
        continue;
      }
      out.push(byte);
      run += 1;
      if (run === longestRun) {
        out.push(newline);
        run = 0;
      }
    }
    return Buffer.from(out);
  };
}

/** Whether the chunk must be gone through byte by byte; the usual one, of a meter that sends LF, need not. */
const needsWork = (chunk: Uint8Array, run: number, knowsNewline: boolean, afterReturn: boolean): boolean =>
  !knowsNewline || afterReturn || run + chunk.length >= longestRun;
