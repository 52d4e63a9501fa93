import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyLine, inHex, readers } from './arbitrary-lines.ts';

// In total, over every reader; `npm run bench -- --only lines` draws ten times as many.
const lines = 100_000;

describe('no line can break a decoder', () => {
  it.each(readers.map((reader) => [reader.name, reader] as const))(
    '%s: any bytes give exactly the documented shape of readings, and no exception',
    (_name, reader) => {
      // A failure prints its seed and the line as hex, shrunk.
      fc.assert(
        fc.property(anyLine, (bytes) => {
          expect(reader.faultIn(bytes), inHex(bytes)).toBeUndefined();
        }),
        { numRuns: Math.ceil(lines / readers.length) },
      );
    },
  );

  it('the lines are of all kinds: readable, flagged, empty, too long and no UTF-8', () => {
    const drawn = fc.sample(anyLine, { numRuns: 2000, seed: 1 });
    expect(drawn.some((line) => line.length > 10_000)).toBe(true);
    expect(drawn.some((line) => line.includes(0))).toBe(true);
    const isUtf8 = (line: Uint8Array) => Buffer.from(Buffer.from(line).toString('utf8')).equals(Buffer.from(line));
    const shares = [drawn.filter(isUtf8).length, drawn.filter((line) => !isUtf8(line)).length];
    for (const share of shares) expect(share).toBeGreaterThan(200);
  });
});
