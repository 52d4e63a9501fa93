import { ReadlineParser } from '@serialport/parser-readline';
import { createLineEnds, longestRun } from './line-ends.ts';

/** A line without its line end. */
export interface LineBytes {
  bytes: Buffer;
  /** Part of a line: the port went away before its end, or it was cut for length. Its text must not be read as a value. */
  partial: boolean;
}

export interface LineReader {
  push(bytes: Uint8Array): void;
  /** The port is gone: gives out what is left as a partial line, then resolves. */
  end(): Promise<void>;
}

const newline = 0x0a;
const carriageReturn = 0x0d;

/**
 * Bytes of one connection in, lines out, in order and without loss. Serial and practice ports both go through here.
 * Lines end in LF, CR LF or, with a meter that never sends LF, CR. Every byte but the line ends is kept as it came.
 */
export function createLineReader(onLine: (line: LineBytes) => void): LineReader {
  // Buffers, one a line, not text: invalid UTF-8 must come through. The delimiter shows which lines are whole; without
  // it the parser would also swallow empty lines.
  const parser = new ReadlineParser({ readableObjectMode: true, encoding: undefined, includeDelimiter: true });
  const lineEnds = createLineEnds();
  let afterCut = false;

  parser.on('data', (chunk: Buffer) => {
    if (chunk.length === 0) return; // nothing was left at the end
    const whole = chunk.at(-1) === newline;
    const text = whole ? chunk.subarray(0, -1) : chunk;
    const bytes = text.at(-1) === carriageReturn ? text.subarray(0, -1) : text;
    const cut = text.length >= longestRun;
    onLine({ bytes: Buffer.from(bytes), partial: !whole || cut || afterCut });
    afterCut = cut;
  });

  return {
    push: (bytes) => {
      parser.write(lineEnds(bytes));
    },
    end: async () => {
      await new Promise<void>((resolve) => {
        parser.once('end', () => resolve());
        parser.end();
      });
    },
  };
}
