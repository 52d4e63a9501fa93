import { describe, expect, it } from 'vitest';
import { bytesOf } from '../../../electron/host/store/read/raw-bytes.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { openTestHost, storedCapture, lineTexts, neverAborted, valueOf } from '../test-host.ts';

/** Records chunks as a port would deliver them, and gives what is stored of them. */
async function recordChunks(chunks: (string | Buffer)[], lines: number, after?: 'lose') {
  const folder = testFolder();
  const { send, lose, record } = await openTestHost(folder);
  const id = await record();
  for (const chunk of chunks) send(chunk);
  if (after === 'lose') lose();
  await waitUntil(`${lines} lines`, () => storedCapture(folder, id).lines.length >= lines);
  const capture = storedCapture(folder, id);
  return { capture, bytes: capture.lines.map((line) => bytesOf(line)) };
}

const flagsOf = (capture: Capture) => capture.readings.map(({ value, flag }) => flag ?? value);

describe('what a port sends is in the store byte for byte', () => {
  it('65 kB without a line ending: cut, flagged, not one byte lost, and the next line is read again', async () => {
    const flood = Buffer.alloc(70_000, '7');
    const chunks = Array.from({ length: 7 }, (_, i) => flood.subarray(i * 10_000, (i + 1) * 10_000));
    const { capture, bytes } = await recordChunks(['1.5\r\n', ...chunks, '\r\n2.5\r\n'], 4);
    expect(Buffer.concat(bytes.slice(1, -1)).equals(flood)).toBe(true);
    expect(bytes.map(({ length }) => length)).toEqual([3, 65_536, 70_000 - 65_536, 3]);
    expect(flagsOf(capture)).toEqual([1.5, 'too-long', 'too-long', 2.5]);
  });

  it('lines of 10 kB: kept whole, flagged as too long', async () => {
    const line = `1.5 ${'x'.repeat(10_000)}`;
    const { capture, bytes } = await recordChunks([`${line}\r\n`, `${line}\n`, '2.5\n'], 3);
    expect(bytes.map(String)).toEqual([line, line, '2.5']);
    expect(flagsOf(capture)).toEqual(['too-long', 'too-long', 2.5]);
  });

  it('a meter that ends its lines with CR alone', async () => {
    const { capture, bytes } = await recordChunks(['1.5\r2.', '5\r', '3.5\r'], 3);
    expect(bytes.map(String)).toEqual(['1.5', '2.5', '3.5']);
    expect(flagsOf(capture)).toEqual([1.5, 2.5, 3.5]);
  });

  it.each([
    ['a banner that ends in CR LF', 'GAUGE\r\n', ['GAUGE']],
    ['an LF of noise', '\u0001\n\u0002', ['\u0001', '\u00021.5']],
  ])('a meter that ends its lines with CR alone, after %s', async (_what, before, begins) => {
    const { capture, bytes } = await recordChunks([before, '1.5\r2.', '5\r', '3.5\r\n', '4.5\r', '\n5.5\r'], 6);
    expect(bytes.map(String).slice(0, begins.length)).toEqual(begins);
    expect(bytes.map(String).slice(-4)).toEqual(['2.5', '3.5', '4.5', '5.5']);
    expect(flagsOf(capture).slice(-4)).toEqual([2.5, 3.5, 4.5, 5.5]);
  });

  it('an unfinished line when the recording is finished: kept as a partial line, and so is what follows it', async () => {
    const folder = testFolder();
    const { host, send, record } = await openTestHost(folder);
    const first = await record();
    send('2.51\r\n12');
    valueOf(await host.handlers['captures.finish']({ capture: first }, neverAborted));
    const second = await record();
    send('.5\r\n3.5\r\n');
    await waitUntil('both lines', () => storedCapture(folder, second).lines.length === 2);
    expect([lineTexts(storedCapture(folder, first)), lineTexts(storedCapture(folder, second))]).toEqual([
      ['2.51', '12'],
      ['.5', '3.5'],
    ]);
    expect(flagsOf(storedCapture(folder, first))).toEqual([2.51, 'unreadable']);
    expect(flagsOf(storedCapture(folder, second))).toEqual(['unreadable', 3.5]);
  });

  it.each([
    ['fast', 0.1, 60, 'x'.repeat(200)],
    ['slow', 2, 8, '2.31;'],
  ])('bytes without any line ending, %s: kept while they come, and reported', async (_rate, everyS, times, text) => {
    const folder = testFolder();
    let nowMs = 1000;
    const { host, send, record } = await openTestHost(folder, {
      clock: { monotonicMs: () => nowMs, wallMs: () => nowMs },
    });
    const id = await record();
    for (let k = 0; k < times; k += 1) {
      send(text);
      nowMs += 1000 * everyS;
    }
    // Of the last two seconds, or the last ten of a slow meter, some may still be pending.
    const pending = Math.ceil((text.length > 100 ? 2.2 : 12) / everyS) * text.length;
    await waitUntil(
      'the pieces',
      () => lineTexts(storedCapture(folder, id)).join('').length >= text.length * times - pending,
    );
    expect(text.repeat(times).startsWith(lineTexts(storedCapture(folder, id)).join(''))).toBe(true);
    expect(flagsOf(storedCapture(folder, id)).every((flag) => flag === 'unreadable' || flag === 'too-long')).toBe(true);
    for await (const [meter] of host.handlers['meters.live']({}, neverAborted)) {
      expect(meter).toMatchObject({ status: 'unreadable', fault: { code: 'meter-endless' } });
      break;
    }
    valueOf(await host.handlers['captures.finish']({ capture: id }, neverAborted));
    expect(lineTexts(storedCapture(folder, id)).join('')).toBe(text.repeat(times));
  });

  it('a line ending that comes before its line, with long pauses', async () => {
    const folder = testFolder();
    let nowMs = 1000;
    const { send, record } = await openTestHost(folder, { clock: { monotonicMs: () => nowMs, wallMs: () => nowMs } });
    const id = await record();
    for (const text of ['\r\n2.31', '\r\n2.', '32', '\r\n2.33', '\r\n']) {
      send(text);
      if (text !== '\r\n2.') nowMs += 60_000;
    }
    await waitUntil(
      'three lines',
      () => lineTexts(storedCapture(folder, id)).filter((text) => text !== '').length === 3,
    );
    expect(flagsOf(storedCapture(folder, id))).toEqual([2.31, 2.32, 2.33]);
  });

  it('NUL bytes before, in and after a line', async () => {
    const lines = ['\0\u00001.5', '2\0.5', '3.5\0', '\0'];
    const { capture, bytes } = await recordChunks([lines.map((line) => `${line}\r\n`).join('')], 4);
    expect(bytes.map(String)).toEqual(lines);
    // A NUL in the middle of a number may have replaced a digit.
    expect(flagsOf(capture)).toEqual([1.5, 'unreadable', 3.5, 'unreadable']);
  });

  it('bytes that are no UTF-8, every one of the 256 but the line endings', async () => {
    const every = Buffer.from(
      Array.from({ length: 256 }, (_, byte) => byte).filter((byte) => byte !== 10 && byte !== 13),
    );
    const { capture, bytes } = await recordChunks(['\n', every, '\n', Buffer.from([0xff, 0xfe, 0xc3]), '\n1.5\n'], 4);
    expect(bytes[1]?.equals(every)).toBe(true);
    expect([...(bytes[2] ?? [])]).toEqual([0xff, 0xfe, 0xc3]);
    expect(capture.lines[2]?.encoding).toBe('latin1');
    expect(flagsOf(capture).at(-1)).toBe(1.5);
  });

  it('half a line when the port goes away: kept, and its half number is no number', async () => {
    const { capture, bytes } = await recordChunks(['2.51\r\n', '2.5'], 2, 'lose');
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
    const { capture, bytes } = await recordChunks(chunks, 2000);
    expect(bytes.map((line) => line.toString('hex'))).toEqual(lines.map((line) => line.toString('hex')));
    expect(capture.lines.map(({ seq }) => seq)).toEqual(lines.map((_, i) => i + 1));
    const good = lines.filter((line) => line.toString('latin1').endsWith(' inH2O')).length;
    expect(good).toBeLessThan(1990);
    expect(capture.readings.filter(({ flag }) => flag === undefined).length).toBeGreaterThanOrEqual(good);
  });
});
