import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ByteSource } from '../../../electron/host/acquire/meter/byte-intake.ts';
import { createRawBacklog } from '../../../electron/host/acquire/record/raw-backlog.ts';

/** What a source took, and what lay in the queue for it at any time. */
const taker = (port: string) => {
  const taken: Buffer[] = [];
  const source: ByteSource = { port, push: (bytes) => void taken.push(Buffer.from(bytes)) };
  return { source, bytes: () => Buffer.concat(taken).toString('latin1') };
};

const lines = fc
  .array(fc.string({ unit: fc.constantFrom('1', '.', '2', '\r', ' '), maxLength: 12 }), { maxLength: 40 })
  .map((all) => all.map((line) => `${line}\n`).join(''));
/** A stream cut anywhere, each piece with what is done: passed on when nothing waits, else added; then some of the queue read. */
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
const unified = (text: string) => text.replaceAll(/\r\n?/gu, '\n');

describe('bytes that wait to be read', () => {
  it('come out as they went in but for the kind of line ends, whatever waits and wherever they are cut; only whole lines wait', () => {
    fc.assert(
      fc.property(
        fc.tuple(lines, lines).chain(([a, b]) => fc.tuple(pieces(a), pieces(b))),
        ([a, b]) => {
          const queue = createRawBacklog();
          const [one, two] = [taker('one'), taker('two')];
          const readOne = () => {
            const first = queue.first();
            if (!first) return;
            first.source.push(first.bytes, first.atMs);
            queue.removeFirst();
          };
          for (let i = 0; i < Math.max(a.length, b.length); i += 1)
            for (const [piece, { source }] of [
              [a[i], one],
              [b[i], two],
            ] as const) {
              if (!piece) continue;
              const bytes = Buffer.from(piece.text, 'latin1');
              if (queue.isEmpty() && !piece.add) queue.passThrough(source, bytes, i);
              else queue.add(source, bytes, i);
              for (const arrival of queue.all()) expect(arrival.bytes.at(-1)).toBe(0x0a);
              for (let k = 0; k < piece.read; k += 1) readOne();
            }
          while (!queue.isEmpty()) readOne();
          for (const { source } of [one, two]) {
            expect(queue.has(source)).toBe(false);
            queue.release(source);
          }
          expect(unified(one.bytes())).toBe(unified(a.map(({ text }) => text).join('')));
          expect(unified(two.bytes())).toBe(unified(b.map(({ text }) => text).join('')));
          expect(queue.size()).toBe(0);
        },
      ),
    );
  });

  it('are begun at a line: one that was passed on in part is ended first', () => {
    const queue = createRawBacklog();
    const { source, bytes } = taker('gauge');
    queue.passThrough(source, Buffer.from('12'), 1);
    queue.add(source, Buffer.from('.5\n3.5\n4'), 2);
    expect(bytes()).toBe('12.5\n');
    expect(queue.all().map((arrival) => [arrival.bytes.toString(), arrival.atMs])).toEqual([['3.5\n', 2]]);
    expect(queue.has(source)).toBe(true);
  });

  it('hold back no line that ends in CR, and no line more for the LF that may come later', () => {
    const queue = createRawBacklog();
    const { source } = taker('gauge');
    queue.add(source, Buffer.from('12\r13\r1'), 1);
    queue.add(source, Buffer.from('4\r'), 2);
    queue.add(source, Buffer.from('\n\n15\r\n'), 3);
    expect(queue.all().map((arrival) => [arrival.bytes.toString(), arrival.atMs])).toEqual([
      ['12\n13\n', 1],
      ['14\n', 2],
      ['\n15\r\n', 3],
    ]);
  });
});
