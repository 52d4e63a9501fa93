import { describe, expect, it } from 'vitest';
import { bytesOf } from '../../electron/host/store/raw-bytes.ts';
import { createRandom } from '../../shared/model/random.ts';
import { testFolder, until } from '../cli/call.ts';
import { openBench, stored } from './bench-host.ts';

/** Sends chunks as a port would give them, and gives what the store holds of them afterwards. */
async function through(chunks: (string | Buffer)[], lines: number, after?: 'lose') {
  const folder = testFolder();
  const { send, lose, record } = await openBench(folder);
  const id = await record();
  for (const chunk of chunks) send(chunk);
  if (after === 'lose') lose();
  await until(`${lines} lines`, () => stored(folder, id).lines.length >= lines);
  const capture = stored(folder, id);
  return { capture, bytes: capture.lines.map((line) => bytesOf(line)) };
}

const flagsOf = (capture: Awaited<ReturnType<typeof through>>['capture']) =>
  capture.readings.map(({ value, flag }) => flag ?? value);

describe('what a port sends is in the store byte for byte', () => {
  it('65 kB without a line end: cut, flagged, not one byte lost, and the next line is read again', async () => {
    const flood = Buffer.alloc(70_000, '7');
    const chunks = Array.from({ length: 7 }, (_, i) => flood.subarray(i * 10_000, (i + 1) * 10_000));
    const { capture, bytes } = await through(['1.5\r\n', ...chunks, '\r\n2.5\r\n'], 4);
    expect(Buffer.concat(bytes.slice(1, -1)).equals(flood)).toBe(true);
    expect(bytes.map(({ length }) => length)).toEqual([3, 65_536, 70_000 - 65_536, 3]);
    expect(flagsOf(capture)).toEqual([1.5, 'too-long', 'too-long', 2.5]);
  });

  it('lines of 10 kB: kept whole, flagged as too long', async () => {
    const line = `1.5 ${'x'.repeat(10_000)}`;
    const { capture, bytes } = await through([`${line}\r\n`, `${line}\n`, '2.5\n'], 3);
    expect(bytes.map(String)).toEqual([line, line, '2.5']);
    expect(flagsOf(capture)).toEqual(['too-long', 'too-long', 2.5]);
  });

  it('a meter that ends its lines with CR alone', async () => {
    const { capture, bytes } = await through(['1.5\r2.', '5\r', '3.5\r'], 3);
    expect(bytes.map(String)).toEqual(['1.5', '2.5', '3.5']);
    expect(flagsOf(capture)).toEqual([1.5, 2.5, 3.5]);
  });

  it('NUL bytes before, in and after a line', async () => {
    const lines = ['\0\u00001.5', '2\0.5', '3.5\0', '\0'];
    const { capture, bytes } = await through([lines.map((line) => `${line}\r\n`).join('')], 4);
    expect(bytes.map(String)).toEqual(lines);
    const [first, , third, last] = flagsOf(capture);
    expect([first, third, last]).toEqual([1.5, 3.5, 'unreadable']);
  });

  it('bytes that are no UTF-8, every one of the 256 but the line ends', async () => {
    const every = Buffer.from(
      Array.from({ length: 256 }, (_, byte) => byte).filter((byte) => byte !== 10 && byte !== 13),
    );
    const { capture, bytes } = await through(['\n', every, '\n', Buffer.from([0xff, 0xfe, 0xc3]), '\n1.5\n'], 4);
    expect(bytes[1]?.equals(every)).toBe(true);
    expect([...(bytes[2] ?? [])]).toEqual([0xff, 0xfe, 0xc3]);
    expect(capture.lines[2]?.encoding).toBe('latin1');
    expect(flagsOf(capture).at(-1)).toBe(1.5);
  });

  it('half a line when the port goes away: kept, and its half number is no number', async () => {
    const { capture, bytes } = await through(['2.51\r\n', '2.5'], 2, 'lose');
    expect(bytes.map(String)).toEqual(['2.51', '2.5']);
    expect(flagsOf(capture)).toEqual([2.51, 'unreadable']);
    expect(capture.marks.map(({ kind, text }) => ({ kind, text }))).toContainEqual({
      kind: 'gap',
      text: 'gauge went away',
    });
  });

  it('two thousand lines with two in a hundred of junk, in chunks of any size', async () => {
    const random = createRandom(7);
    const lines = Array.from({ length: 2000 }, (_, i) =>
      random.uniform() < 0.02
        ? Buffer.from(
            Array.from({ length: 1 + Math.floor(40 * random.uniform()) }, () =>
              Math.floor(256 * random.uniform()),
            ).filter((byte) => byte !== 10 && byte !== 13),
          )
        : Buffer.from(`${(i / 1000).toFixed(3)} inH2O`),
    );
    const stream = Buffer.concat(lines.flatMap((line) => [line, Buffer.from('\r\n')]));
    const chunks: Buffer[] = [];
    for (let at = 0; at < stream.length;) {
      const to = at + 1 + Math.floor(300 * random.uniform());
      chunks.push(stream.subarray(at, to));
      at = to;
    }
    const { capture, bytes } = await through(chunks, 2000);
    expect(bytes.map((line) => line.toString('hex'))).toEqual(lines.map((line) => line.toString('hex')));
    expect(capture.lines.map(({ seq }) => seq)).toEqual(lines.map((_, i) => i + 1));
    const good = lines.filter((line) => line.toString('latin1').endsWith(' inH2O')).length;
    expect(good).toBeLessThan(1990);
    expect(capture.readings.filter(({ flag }) => flag === undefined).length).toBeGreaterThanOrEqual(good);
  });
});
