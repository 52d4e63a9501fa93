import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { addMeter } from '../../../electron/host/store/captures.ts';
import { importCapture } from '../../../electron/host/store/import/import-capture.ts';
import { findRow } from '../../../electron/host/store/read/capture-rows.ts';
import { migrations } from '../../../electron/host/store/migrations/all.ts';
import { openStore } from '../../../electron/host/store/open.ts';
import { storeFile } from '../../../electron/host/store/store-file.ts';
import { readCapture } from '../../../electron/host/store/read/read-capture.ts';
import { simulateVisit } from '../../../shared/practice/simulate.ts';
import { testFolder } from '../../helpers/test-folder.ts';

const opened = (folder: string) => {
  const store = openStore(folder);
  if (!store.ok) throw new Error(store.fault.message);
  return store.value;
};

describe('the store', () => {
  it('is created when it is missing, in STRICT tables, and is intact', () => {
    const { db, close } = opened(testFolder());
    // All but those of the full-text index, whose columns have no types.
    const tables = db
      .prepare<[], { name: string; strict: number }>(
        "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite_%'",
      )
      .all();
    expect(tables.length).toBeGreaterThan(5);
    for (const { name, strict } of tables) expect(strict, name).toBe(1);
    expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    expect(db.pragma('journal_mode', { simple: true })).toBe('wal');
    expect(db.pragma('user_version', { simple: true })).toBe(migrations.length);
    close();
  });

  it('gives back a whole visit as it was imported, and imports it only once', () => {
    const { db, close } = opened(testFolder());
    const { capture } = simulateVisit('clean', 2);
    expect(importCapture(db, capture, undefined, '2026-11-25T10:00:00Z')).toBe(true);
    expect(importCapture(db, capture, undefined, '2026-11-25T11:00:00Z')).toBe(false);
    const row = findRow(db, capture.id);
    if (typeof row === 'string') throw new Error(row);
    expect(readCapture(db, row)).toEqual(capture);
    close();
  });

  it('stores with a capture the profile of its meter, and a second one of the same name', () => {
    const { db, close } = opened(testFolder());
    const { capture } = simulateVisit('clean', 2);
    const meter = { port: 'COM3', profile: 'mine' };
    const [before, after] = [
      { name: 'mine', line: { format: 'number' } },
      { name: 'mine', line: { format: 'scpi' } },
    ];
    const meters = [{ ...meter, reads: before }, { ...meter, reads: after }, meter];
    importCapture(db, { ...capture, meters }, undefined, '2026-11-25T10:00:00Z');
    const row = findRow(db, capture.id);
    if (typeof row === 'string') throw new Error(row);
    for (const again of meters) addMeter(db, row.key, again);
    expect(readCapture(db, row).meters).toEqual(meters);
    close();
  });

  it('keeps the status of an interrupted capture that is imported', () => {
    const { db, close } = opened(testFolder());
    const capture = { ...simulateVisit('clean', 2).capture, interrupted: true as const };
    importCapture(db, capture, undefined, '2026-11-25T10:00:00Z');
    const row = findRow(db, capture.id);
    expect(row).toMatchObject({ status: 'interrupted' });
    if (typeof row !== 'string') expect(readCapture(db, row)).toEqual(capture);
    close();
  });

  it('may be open twice at the same time', () => {
    const folder = testFolder();
    const [one, other] = [opened(folder), opened(folder)];
    importCapture(one.db, simulateVisit('clean', 2).capture, undefined, '2026-11-25T10:00:00Z');
    expect(other.db.prepare('SELECT count(*) AS n FROM capture').get()).toEqual({ n: 1 });
    one.close();
    other.close();
  });

  it.each([
    ['text', Buffer.from('not a store, but text that is long enough to be checked\n'.repeat(50))],
    ['another program’s database', undefined],
  ])('does not change %s in its place, and reports it', (_what, bytes) => {
    const folder = testFolder();
    mkdirSync(folder, { recursive: true });
    if (bytes) writeFileSync(storeFile(folder), bytes);
    else {
      const db = new Database(storeFile(folder));
      db.exec('CREATE TABLE other (x)');
      db.close();
    }
    const before = readFileSync(storeFile(folder));
    const store = openStore(folder);
    expect(store).toMatchObject({ ok: false, fault: { code: 'store-damaged' } });
    expect(readFileSync(storeFile(folder)).equals(before)).toBe(true);
  });

  it('of a newer Pilot Bench is not opened', () => {
    const folder = testFolder();
    opened(folder).close();
    const db = new Database(storeFile(folder));
    db.pragma(`user_version = ${migrations.length + 1}`);
    db.close();
    expect(openStore(folder)).toMatchObject({ ok: false, fault: { code: 'store-newer' } });
  });

  it('whose folder cannot be created is reported as unavailable', () => {
    const folder = testFolder();
    writeFileSync(join(folder, 'file'), 'in the way');
    expect(openStore(join(folder, 'file', 'store'))).toMatchObject({ ok: false, fault: { code: 'store-unavailable' } });
  });
});
