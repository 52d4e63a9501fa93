import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import { storeFile } from '../../../electron/host/store/store-file.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { openTestHost, storedCapture, interruptAsOrphan, neverAborted, valueOf } from '../test-host.ts';

const many = 30_000;
const signalMeter = builtInProfiles.find(
  ({ line, channels }) => line.format === 'number' && channels[0]?.role === 'flame_signal',
)!;

/** Numbered lines of one meter, in chunks as a port gives them: at most 4095 bytes, cut anywhere. */
function chunksOf(first: number): Buffer[] {
  const all = Buffer.from(Array.from({ length: many }, (_, n) => `${first + n}\r\n`).join(''));
  return Array.from({ length: Math.ceil(all.length / 4095) }, (_, i) => all.subarray(i * 4095, (i + 1) * 4095));
}
const numbersFrom = (first: number) => Array.from({ length: many }, (_, n) => first + n);

/** Lines in the raw bytes of the store, and decoded lines in it. */
const storedIn = (db: Database.Database) => () =>
  db
    .prepare<[], { lines: number; unread: number }>(
      `SELECT (SELECT sum(lines) FROM capture) AS lines,
         (SELECT total(length(hex(bytes)) - length(replace(hex(bytes), '0A', ''))) / 2 FROM unread) AS unread`,
    )
    .get()!;

/** A host with two meters that send everything at once. */
async function flood() {
  const folder = testFolder();
  const opened = await openTestHost(folder);
  valueOf(await opened.host.handlers['meters.connect']({ port: 'flame', profile: signalMeter.name }, neverAborted));
  const id = await opened.record();
  const [gauge, flame] = [chunksOf(100_000), chunksOf(200_000)];
  for (const [i, chunk] of gauge.entries()) {
    opened.send(chunk);
    opened.send(flame[i]!, 'flame');
  }
  const db = new Database(storeFile(folder), { readonly: true });
  const unread = db.prepare('SELECT count(*) FROM unread').pluck();
  const safe = storedIn(db);
  const linesOf = (port: string) =>
    storedCapture(folder, id)
      .lines.filter((line) => line.port === port)
      .map(({ raw }) => Number(raw));
  return { ...opened, folder, id, safe, linesOf, unreadRows: () => unread.get(), db };
}

describe('lines that come faster than they can be decoded', () => {
  it('are stored raw first, then decoded: every one, in order, with its reading', async () => {
    const { folder, id, safe, linesOf, unreadRows } = await flood();
    await waitUntil('everything is in the store', () => safe().lines + safe().unread === 2 * many);
    expect(safe().lines).toBeLessThan(2 * many);
    await waitUntil('everything is decoded', () => safe().lines === 2 * many);
    expect(linesOf('gauge')).toEqual(numbersFrom(100_000));
    expect(linesOf('flame')).toEqual(numbersFrom(200_000));
    expect(unreadRows()).toBe(0);
    const { readings, lines } = storedCapture(folder, id);
    const byLine = new Map(lines.map((line) => [line.seq, Number(line.raw)]));
    expect(readings).toHaveLength(2 * many);
    expect(readings.every(({ value, line }) => value === byLine.get(line!))).toBe(true);
  });

  it('are all in a capture that is finished meanwhile', async () => {
    const { host, id, linesOf, unreadRows } = await flood();
    valueOf(await host.handlers['captures.finish']({ capture: id }, neverAborted));
    expect(linesOf('gauge')).toEqual(numbersFrom(100_000));
    expect(linesOf('flame')).toEqual(numbersFrom(200_000));
    expect(unreadRows()).toBe(0);
  });

  it('are all decoded when their port goes away, the half line at the end as a partial line', async () => {
    const { send, lose, safe, linesOf, folder, id } = await flood();
    send('99.5');
    lose();
    await waitUntil('everything is decoded', () => safe().lines === 2 * many + 1);
    expect(linesOf('gauge')).toEqual([...numbersFrom(100_000), 99.5]);
    expect(storedCapture(folder, id).readings.find(({ raw }) => raw === '99.5')?.flag).toBe('unreadable');
  });

  it('are in exactly one of the two captures when another program takes over the one that was recorded', async () => {
    const { folder, send, safe, id, db } = await flood();
    await waitUntil('everything is in the store', () => safe().lines + safe().unread === 2 * many);
    interruptAsOrphan(folder, id);
    const next = await openTestHost(folder);
    valueOf(await next.host.handlers['captures.continue']({ capture: id }, neverAborted));
    send('300000\r\n');
    const last = db.prepare(`SELECT 1 FROM line WHERE CAST(raw AS TEXT) = '300000'`);
    await waitUntil('the last line', () => last.get() !== undefined);
    const all = db
      .prepare<[], { capture: number; n: number }>(
        'SELECT capture, CAST(CAST(raw AS TEXT) AS INTEGER) AS n FROM line ORDER BY capture, seq',
      )
      .all();
    const inBoth = all.map(({ n }) => n).sort((a, b) => a - b);
    expect(inBoth).toEqual([...numbersFrom(100_000), ...numbersFrom(200_000), 300_000]);
    const captures = [...Map.groupBy(all, ({ capture }) => capture).values()];
    expect(captures).toHaveLength(2);
    for (const lines of captures)
      for (const ofOne of Map.groupBy(lines, ({ n }) => Math.trunc(n / 100_000)).values()) {
        const numbers = ofOne.map(({ n }) => n);
        expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
      }
  });

  it('and were left by a kill are all decoded at the next start, a long run without line ending to its last byte', async () => {
    const folder = testFolder();
    const { record } = await openTestHost(folder);
    const id = await record();
    interruptAsOrphan(folder, id);
    const db = new Database(storeFile(folder));
    const insert = db.prepare(`INSERT INTO unread (capture, elapsed_s, port, bytes) SELECT key, 1, ?, ? FROM capture`);
    for (const port of ['gauge', 'unknown port']) insert.run(port, Buffer.from(`1.5\r\n${'A'.repeat(70_000)}`));
    db.close();
    await openTestHost(folder);
    const { lines, readings } = storedCapture(folder, id);
    for (const port of ['gauge', 'unknown port']) {
      const raw = lines.filter((line) => line.port === port).map((line) => line.raw);
      expect(raw[0]).toBe('1.5');
      expect(raw.slice(1).join('')).toBe('A'.repeat(70_000));
    }
    expect(readings.filter(({ flag }) => !flag).map(({ value }) => value)).toEqual([1.5]);
  });

  it('do not delay another meter that ends its lines in CR alone', async () => {
    const folder = testFolder();
    const { host, send, record } = await openTestHost(folder);
    valueOf(await host.handlers['meters.connect']({ port: 'flame', profile: signalMeter.name }, neverAborted));
    const id = await record();
    for (const chunk of chunksOf(100_000)) send(chunk);
    send('2.5\r', 'flame');
    send('3.5\r', 'flame');
    await waitUntil('everything is decoded', () => storedCapture(folder, id).lines.length === many + 2);
    const { readings } = storedCapture(folder, id);
    expect(readings.filter(({ role }) => role === 'flame_signal').map(({ value }) => value)).toEqual([2.5, 3.5]);
  });

  it('are never in the store twice, not even between two turns, when their meter switches units among them', async () => {
    const folder = testFolder();
    const { send, record } = await openTestHost(folder);
    await record();
    const units = ['inH2O', 'Pa', 'inH2O', 'Pa'].flatMap((unit) =>
      Array.from({ length: 1000 }, () => `1.5 ${unit}\r\n`),
    );
    const sent = Buffer.from(['1\r\n'.repeat(8000), ...units].join(''));
    for (let at = 0; at < sent.length; at += 4095) send(sent.subarray(at, at + 4095));
    const db = new Database(storeFile(folder), { readonly: true });
    onTestFinished(() => void db.close());
    const safe = storedIn(db);
    const seen = new Set<number>();
    while (safe().lines < 12_000) {
      seen.add(safe().lines + safe().unread);
      await new Promise((resolve) => {
        setImmediate(resolve);
      });
    }
    expect(Math.max(...seen)).toBe(12_000);
    expect(db.prepare('SELECT count(*) FROM mark').pluck().get()).toBeGreaterThan(1);
  });
});
