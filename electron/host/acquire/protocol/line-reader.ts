import { ReadlineParser } from '@serialport/parser-readline';
import { createLineDelimiter, maxRunBytes } from './line-endings.ts';

/** A line without its line ending. */
export interface LineBytes {
  bytes: Buffer;
  /** Part of a line: the port went away before its end, or it was flushed. Its text must not be read as a value. */
  partial: boolean;
}

export interface LineReader {
  push(bytes: Uint8Array): void;
  /** How many bytes have come of a line that has not ended. */
  pendingBytes(): number;
  /** Emits the bytes of an unfinished line as a partial line; what follows them is another partial line. */
  flush(): void;
  /** The port is gone: emits what is left as a partial line, then resolves. */
  close(): Promise<void>;
}

const newline = 0x0a;
const carriageReturn = 0x0d;

/**
 * Bytes of one connection in, lines out, in order and without loss. Serial and practice ports both go through here.
 * Lines end in LF, CR LF or CR. Every byte but the line endings is kept as it came.
 */
export function createLineReader(onLine: (line: LineBytes) => void): LineReader {
  // Buffers, one a line, not text: invalid UTF-8 must come through. The delimiter shows which lines are whole; without
  // it the parser would also swallow empty lines.
  const parser = new ReadlineParser({ readableObjectMode: true, encoding: undefined, includeDelimiter: true });
  const delimiter = createLineDelimiter();
  let isFlushing = false;
  let afterCut = false;

  parser.on('data', (chunk: Buffer) => {
    if (chunk.length === 0) return; // nothing was left at the end
    const whole = chunk.at(-1) === newline;
    const text = whole ? chunk.subarray(0, -1) : chunk;
    const bytes = text.at(-1) === carriageReturn && !isFlushing ? text.subarray(0, -1) : text;
    const isCut = isFlushing || text.length >= maxRunBytes;
    const partial = !whole || isCut || afterCut;
    const isEndingOfCut = afterCut && bytes.length === 0; // the line ending of what was cut just before it
    afterCut = isCut;
    if (!isEndingOfCut) onLine({ bytes: Buffer.from(bytes), partial });
  });

  return {
    push: (bytes) => {
      parser.write(delimiter.delimit(bytes));
    },
    pendingBytes: () => delimiter.runLength(),
    flush() {
      if (delimiter.runLength() === 0) return;
      delimiter.reset();
      isFlushing = true;
      parser.write(Buffer.from([newline]));
      isFlushing = false;
    },
    close: async () => {
      await new Promise<void>((resolve) => {
        parser.once('end', () => resolve());
        parser.end();
      });
    },
  };
}
