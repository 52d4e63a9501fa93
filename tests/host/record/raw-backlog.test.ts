import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ByteSource } from '../../../electron/host/acquire/meter/byte-intake.ts';
import { createRawBacklog } from '../../../electron/host/acquire/record/raw-backlog.ts';

/** A source that records what is pushed to it. */
const recordingSource = (port: string) => {
  const pushed: Buffer[] = [];
  const source: ByteSource = { port, push: (bytes) => void pushed.push(Buffer.from(bytes)) };
  return { source, bytes: () => Buffer.concat(pushed).toString('latin1') };
};

const lines = fc
  .array(fc.string({ unit: fc.constantFrom('1', '.', '2', '\r', ' '), maxLength: 12 }), { maxLength: 40 })
  .map((all) => all.map((line) => `${line}\n`).join(''));
/** A stream cut anywhere; each piece is passed through when the backlog is empty and `add` is false, else added; then `read` arrivals are read. */
const pieces = (text: string) =>
  fc.array(fc.tuple(fc.nat({ max: text.length }), fc.boolean(), fc.nat({ max: 3 })), { maxLength: 30 }).map((cuts) => {
    const at = [...cuts].sort(([a], [b]) => a - b);
    return [...at, [text.length, false, 0] as const].map(([end, add, read], i) => ({
      text: text.slice(at[i - 1]?.[0] ?? 0, end),
      add,
      read,
    }));
  });

/** Each CR ends a line, and an LF right behind it belongs to it. */
const normalized = (text: string) => text.replaceAll(/\r\n?/gu, '\n');

describe('the raw backlog', () => {
  it('gives out all bytes in order but for the kind of line endings, wherever they are cut, and has only whole lines in it', () => {
    fc.assert(
      fc.property(
        fc.tuple(lines, lines).chain(([a, b]) => fc.tuple(pieces(a), pieces(b))),
        ([a, b]) => {
          const backlog = createRawBacklog();
          const [one, two] = [recordingSource('one'), recordingSource('two')];
          const readOne = () => {
            const first = backlog.first();
            if (!first) return;
            first.source.push(first.bytes, first.atMs);
            backlog.removeFirst();
          };
          for (let i = 0; i < Math.max(a.length, b.length); i += 1)
            for (const [piece, { source }] of [
              [a[i], one],
              [b[i], two],
            ] as const) {
              if (!piece) continue;
              const bytes = Buffer.from(piece.text, 'latin1');
              if (backlog.isEmpty() && !piece.add) backlog.passThrough(source, bytes, i);
              else backlog.add(source, bytes, i);
              for (const arrival of backlog.all()) expect(arrival.bytes.at(-1)).toBe(0x0a);
              for (let k = 0; k < piece.read; k += 1) readOne();
            }
          while (!backlog.isEmpty()) readOne();
          for (const { source } of [one, two]) {
            expect(backlog.has(source)).toBe(false);
            backlog.release(source);
          }
          expect(normalized(one.bytes())).toBe(normalized(a.map(({ text }) => text).join('')));
          expect(normalized(two.bytes())).toBe(normalized(b.map(({ text }) => text).join('')));
          expect(backlog.size()).toBe(0);
        },
      ),
    );
  });

  it('begins at a line: one that was passed on in part is finished first', () => {
    const backlog = createRawBacklog();
    const { source, bytes } = recordingSource('gauge');
    backlog.passThrough(source, Buffer.from('12'), 1);
    backlog.add(source, Buffer.from('.5\n3.5\n4'), 2);
    expect(bytes()).toBe('12.5\n');
    expect(backlog.all().map((arrival) => [arrival.bytes.toString(), arrival.atMs])).toEqual([['3.5\n', 2]]);
    expect(backlog.has(source)).toBe(true);
  });

  it('does not delay a line that ends in CR, nor add a line for the LF that may come later', () => {
    const backlog = createRawBacklog();
    const { source } = recordingSource('gauge');
    backlog.add(source, Buffer.from('12\r13\r1'), 1);
    backlog.add(source, Buffer.from('4\r'), 2);
    backlog.add(source, Buffer.from('\n\n15\r\n'), 3);
    expect(backlog.all().map((arrival) => [arrival.bytes.toString(), arrival.atMs])).toEqual([
      ['12\n13\n', 1],
      ['14\n', 2],
      ['\n15\r\n', 3],
    ]);
  });
});
