import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { removeAbandonedImports, chunkRows } from '../../../electron/host/store/import/incomplete-import.ts';
import { findRow } from '../../../electron/host/store/read/capture-rows.ts';
import { allCaptures } from '../../../electron/host/store/read/list-captures.ts';
import { importCapture } from '../../../electron/host/store/import/import-capture.ts';
import { openStore } from '../../../electron/host/store/open.ts';
import { readCapture } from '../../../electron/host/store/read/read-capture.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { valueOf } from '../test-host.ts';

const count = Math.round(5.25 * chunkRows);
const addedAt = '2026-11-25T10:00:00Z';

/** A long capture: one reading per line, ten per second. */
const long = (): Capture => {
  const lines = Array.from({ length: count }, (_, i) => ({
    seq: i + 1,
    elapsedS: i / 10,
    port: 'gauge',
    raw: `${i}`,
    encoding: 'utf8' as const,
  }));
  return {
    id: 'long',
    startedAt: '2026-11-25T09:00:00+01:00',
    meters: [{ port: 'gauge', profile: 'Gauge' }],
    setup: {},
    lines,
    readings: lines.map(({ seq, elapsedS, raw }) => ({
      role: 'pilot_pressure' as const,
      unit: 'Pa' as const,
      elapsedS,
      value: Number(raw),
      raw,
      line: seq,
    })),
    marks: [{ elapsedS: 1, kind: 'note', text: 'a note' }],
    trials: [],
    notes: [],
  };
};

const rowsLeft = (db: Database.Database) =>
  ['capture', 'line', 'reading', 'channel', 'meter', 'mark'].map((table) =>
    db.prepare(`SELECT count(*) FROM ${table}`).pluck().get(),
  );

describe('an import', () => {
  it('releases the write lock after each chunk, and shows nothing before it is complete', () => {
    const folder = testFolder();
    const [{ db, close }, other] = [valueOf(openStore(folder)), valueOf(openStore(folder))];
    other.db.pragma('busy_timeout = 0'); // a write that would have to wait fails
    const write = other.db.prepare("INSERT INTO profile VALUES ('other', '{}') ON CONFLICT DO UPDATE SET json = '{}'");
    let chunks = 0;
    const between = () => {
      chunks += 1;
      write.run();
      expect(allCaptures(other.db)).toEqual([]);
      expect(findRow(other.db, 'long')).toBe('missing');
    };
    expect(importCapture(db, long(), undefined, addedAt, between)).toBe(true);
    // As many for the readings as for the lines.
    expect(chunks).toBe(2 * Math.ceil(count / chunkRows));
    expect(chunks).toBeGreaterThan(10);
    const row = findRow(other.db, 'long');
    if (typeof row === 'string') throw new Error(row);
    expect(readCapture(other.db, row)).toEqual(long());
    close();
    other.close();
  });

  it('that is killed half way leaves nothing visible, and the next one removes what it left', () => {
    const { db, close } = valueOf(openStore(testFolder()));
    let chunks = 0;
    const die = () => {
      chunks += 1;
      if (chunks === 8) throw new Error('killed');
    };
    expect(() => importCapture(db, long(), undefined, addedAt, die)).toThrow('killed');
    expect(allCaptures(db)).toEqual([]);
    expect(rowsLeft(db)).toEqual([1, count, 2 * chunkRows, 1, 0, 0]);
    // As long as it may still be running it is left alone.
    expect(removeAbandonedImports(db, Date.now(), () => {})).toBe(0);
    let pauses = 0;
    expect(removeAbandonedImports(db, Date.now() + 60_000, () => (pauses += 1))).toBe(1);
    expect(pauses).toBeGreaterThanOrEqual(8);
    expect(rowsLeft(db)).toEqual([0, 0, 0, 0, 0, 0]);
    expect(importCapture(db, long(), undefined, addedAt, () => {})).toBe(true);
    close();
  });

  it('of the same file at the same time adds it once', () => {
    const folder = testFolder();
    const [{ db, close }, other] = [valueOf(openStore(folder)), valueOf(openStore(folder))];
    let others: boolean | undefined;
    const meanwhile = () => {
      others ??= importCapture(other.db, long(), undefined, addedAt, () => {});
    };
    expect(importCapture(db, long(), undefined, addedAt, meanwhile)).toBe(false);
    expect(others).toBe(true);
    expect(rowsLeft(db)).toEqual([1, count, count, 1, 1, 1]);
    close();
    other.close();
  });
});
