import { ReadlineParser } from '@serialport/parser-readline';
import { createLineEnds, longestRun } from './line-endings.ts';

/** A line without its line end. */
export interface LineBytes {
  bytes: Buffer;
  /** Part of a line: the port went away before its end, or it was cut. Its text must not be read as a value. */
  partial: boolean;
}

export interface LineReader {
  push(bytes: Uint8Array): void;
  /** How many bytes have come of a line that has not ended. */
  held(): number;
  /** Gives out what has come of a line so far, as a part of one; what follows it is another part. */
  cut(): void;
  /** The port is gone: gives out what is left as a partial line, then resolves. */
  end(): Promise<void>;
}

const newline = 0x0a;
const carriageReturn = 0x0d;

/**
 * Bytes of one connection in, lines out, in order and without loss. Serial and practice ports both go through here.
 * Lines end in LF, CR LF or CR. Every byte but the line ends is kept as it came.
 */
export function createLineReader(onLine: (line: LineBytes) => void): LineReader {
  // Buffers, one a line, not text: invalid UTF-8 must come through. The delimiter shows which lines are whole; without
  // it the parser would also swallow empty lines.
  const parser = new ReadlineParser({ readableObjectMode: true, encoding: undefined, includeDelimiter: true });
  const lineEnds = createLineEnds();
  let cutting = false;
  let afterCut = false;

  parser.on('data', (chunk: Buffer) => {
    if (chunk.length === 0) return; // nothing was left at the end
    const whole = chunk.at(-1) === newline;
    const text = whole ? chunk.subarray(0, -1) : chunk;
    const bytes = text.at(-1) === carriageReturn && !cutting ? text.subarray(0, -1) : text;
    const cut = cutting || text.length >= longestRun;
    const partial = !whole || cut || afterCut;
    const isRest = afterCut && bytes.length === 0; // the line end of what was cut just before it
    afterCut = cut;
    if (!isRest) onLine({ bytes: Buffer.from(bytes), partial });
  });

  return {
    push: (bytes) => {
      parser.write(lineEnds.mark(bytes));
    },
    held: () => lineEnds.run(),
    cut() {
      if (lineEnds.run() === 0) return;
      lineEnds.cut();
      cutting = true;
      parser.write(Buffer.from([newline]));
      cutting = false;
    },
    end: async () => {
      await new Promise<void>((resolve) => {
        parser.once('end', () => resolve());
        parser.end();
      });
    },
  };
}
