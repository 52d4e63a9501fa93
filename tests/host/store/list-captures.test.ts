import type { Database } from 'better-sqlite3';
import fc from 'fast-check';
import { describe, expect, it, onTestFinished } from 'vitest';
import { createAppender } from '../../../electron/host/store/append.ts';
import { putBurner } from '../../../electron/host/store/burners.ts';
import { addMark, addNote, endCapture, insertRecording, setBurner } from '../../../electron/host/store/captures.ts';
import { importCapture } from '../../../electron/host/store/import/import-capture.ts';
import { openStore } from '../../../electron/host/store/open.ts';
import { createOwner } from '../../../electron/host/store/owner.ts';
import { findRow } from '../../../electron/host/store/read/capture-rows.ts';
import {
  allCaptures,
  listCaptures,
  listVersion,
  unfinishedCaptures,
} from '../../../electron/host/store/read/list-captures.ts';
import { addTrial, voidTrial } from '../../../electron/host/store/trials.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { valueOf } from '../test-host.ts';

const store = (): Database => {
  const { db, close } = valueOf(openStore(testFolder()));
  onTestFinished(close);
  return db;
};
const owner = createOwner();
const facts = { site: 'North mill', name: 'Boiler 2' };
const startedAt = '2026-05-04T10:00:00.000+02:00';

/** Begins a recording; gives its key. */
function record(db: Database, id: string, at = startedAt): number {
  putBurner(db, { id: 'b', ...facts, setup: {} });
  return insertRecording(
    db,
    { id, startedAt: at, technician: 'R. Odegaard', burner: { id: 'b', facts }, setup: {} },
    owner,
    0,
  );
}

const fromFile = (id: string, part: Partial<Capture> = {}): Capture => ({
  id,
  meters: [],
  setup: {},
  readings: [],
  lines: [],
  marks: [],
  trials: [],
  notes: [],
  ...part,
});
const take = (db: Database, capture: Capture): boolean =>
  importCapture(db, capture, undefined, '2026-05-05T00:00:00Z', () => {});

const idsOf = (db: Database, search: string, from = 0, count = 100): string[] =>
  listCaptures(db, { search, from, count }).captures.map(({ id }) => id);

describe('the search finds a capture', () => {
  it('from the moment it is begun, by its burner, technician, day and id', () => {
    const db = store();
    record(db, 'c0ffee');
    for (const search of ['boil', 'NORTH mill', 'odegaard r.', '2026-05', '2026-05-04', 'c0ff', '2 2026 mill'])
      expect(idsOf(db, search), search).toEqual(['c0ffee']);
    for (const search of ['oiler', 'south', 'boiler 3', '2026-06']) expect(idsOf(db, search), search).toEqual([]);
  });

  it('by another burner that it is given, and not by the first one anymore', () => {
    const db = store();
    const key = record(db, 'a');
    putBurner(db, { id: 'other', site: 'Foundry', name: 'Kiln', setup: {} });
    setBurner(db, key, 'other', { site: 'Foundry', name: 'Kiln' });
    expect([idsOf(db, 'kiln'), idsOf(db, 'boiler')]).toEqual([['a'], []]);
  });

  it('by the new name of its burner as well as by that of the visit', () => {
    const db = store();
    record(db, 'a');
    putBurner(db, { id: 'b', site: 'North mill', name: 'Steam plant', setup: {} });
    expect([idsOf(db, 'steam'), idsOf(db, 'boiler')]).toEqual([['a'], ['a']]);
    putBurner(db, { id: 'b', site: 'North mill', name: 'Turbine', setup: {} });
    expect([idsOf(db, 'turbine'), idsOf(db, 'steam')]).toEqual([['a'], []]);
  });

  it('by a note that is added beside it, at once, and by a note of the recording once that is over', () => {
    const db = store();
    const key = record(db, 'a');
    addNote(db, key, { at: startedAt, text: 'electrode replaced' });
    createAppender(db, key, owner).append([{ kind: 'mark', mark: { elapsedS: 1, kind: 'note', text: 'gusty draft' } }]);
    expect(idsOf(db, 'electro')).toEqual(['a']);
    endCapture(db, key, owner, 'complete');
    expect([idsOf(db, 'gusty'), idsOf(db, 'electro draft')]).toEqual([['a'], ['a']]);
    addMark(db, key, { elapsedS: 2, kind: 'note', text: 'afterwards' });
    expect(idsOf(db, 'afterwards gusty')).toEqual(['a']);
  });

  it('that was imported, by all that its file says, once the import is complete', () => {
    const db = store();
    const capture = fromFile('from-file', {
      startedAt: '2019-07-08T09:00:00Z',
      technician: 'K. Tanaka',
      burner: { site: 'Dye works', name: 'Dryer', serialNumber: 'SN/77-B' },
      readings: [{ role: 'flame_signal', unit: 'V', elapsedS: 0, value: 1, raw: '1' }],
      notes: [{ at: '2019-07-08T10:00:00Z', text: 'from the logger' }],
      marks: [{ elapsedS: 0, kind: 'note', text: 'shutter cleaned' }],
    });
    let seen: string[] = [];
    importCapture(db, capture, undefined, startedAt, () => void (seen = [...seen, ...idsOf(db, '')]));
    expect(seen).toEqual([]);
    for (const search of ['tanaka', 'sn/77-b', 'dryer dye', '2019-07', 'logger', 'shutter cleaned'])
      expect(idsOf(db, search), search).toEqual(['from-file']);
  });

  it('by a note that only a later file of the interrupted capture has', () => {
    const db = store();
    const line = { seq: 1, elapsedS: 0, port: 'COM3', raw: '1', encoding: 'utf8' } as const;
    take(db, fromFile('cut', { interrupted: true }));
    expect(idsOf(db, 'rescued')).toEqual([]);
    take(
      db,
      fromFile('cut', { interrupted: true, lines: [line], marks: [{ elapsedS: 0, kind: 'note', text: 'rescued' }] }),
    );
    expect(idsOf(db, 'rescued')).toEqual(['cut']);
  });

  it('no more when it is removed', () => {
    const db = store();
    take(db, fromFile('gone', { technician: 'Nobody' }));
    db.exec("DELETE FROM capture WHERE id = 'gone'");
    expect(listCaptures(db, { search: 'nobody', from: 0, count: 10 })).toEqual({ total: 0, captures: [] });
    expect(db.prepare('SELECT count(*) FROM capture_search').pluck().get()).toBe(0);
  });
});

it('a number of one or two digits means a burner or a word, not any capture of such a day', () => {
  const db = store();
  take(db, fromFile('of-day', { startedAt: '2026-12-12T09:00:00Z', burner: { site: 'Mill', name: 'Boiler 3' } }));
  take(db, fromFile('12ab', { startedAt: '2026-01-02T09:00:00Z', burner: { site: 'Mill', name: 'Boiler 3' } }));
  take(db, fromFile('meant', { startedAt: '2026-01-01T09:00:00Z', burner: { site: 'Mill', name: 'Boiler 12' } }));
  expect(idsOf(db, 'boiler 12')).toEqual(['meant']);
  expect(idsOf(db, '2026-12')).toEqual(['of-day']);
});

describe('a search', () => {
  it.each([
    '"',
    "'",
    '*',
    'a*',
    'NEAR(a b)',
    'NOT',
    'AND OR',
    'site:x',
    '-a',
    '^a',
    '(',
    '{a}: b',
    '\0',
    '"a" OR',
    '%',
    '\u{1F600}',
  ])('for %j is a search for text, and never breaks', (search) => {
    const db = store();
    record(db, 'x1');
    expect(() => idsOf(db, search)).not.toThrow();
    expect(listCaptures(db, { search, from: 0, count: 5 }).total).toBe(idsOf(db, search).length);
  });

  it('for any text that a name holds finds that name, and for any text at all never breaks', () => {
    const db = store();
    take(db, fromFile('one', { technician: 'Ann' }));
    const rename = db.prepare('UPDATE capture SET technician = ?');
    const name = fc.string({ unit: 'grapheme', maxLength: 40 });
    fc.assert(
      fc.property(name, fc.string({ unit: 'binary', maxLength: 40 }), (text, other) => {
        rename.run(text);
        expect(idsOf(db, text)).toEqual(['one']);
        idsOf(db, other);
      }),
      { seed: 6, numRuns: 300 },
    );
  });

  it('for signs alone is for everything', () => {
    const db = store();
    record(db, 'x1');
    expect([idsOf(db, ' "  - '), idsOf(db, '')]).toEqual([['x1'], ['x1']]);
  });
});

describe('the list', () => {
  it('is in the order of time whatever the time zones, and comes in parts that neither overlap nor leave out', () => {
    const db = store();
    // 12:00 in the west is later than 20:00 in the east.
    record(db, 'east', '2026-05-04T20:00:00.000+10:00');
    record(db, 'west', '2026-05-04T12:00:00.000-05:00');
    take(db, fromFile('undated'));
    expect(idsOf(db, '')).toEqual(['undated', 'west', 'east']);
    expect([idsOf(db, '', 0, 2), idsOf(db, '', 2, 2), idsOf(db, '', 4, 2)]).toEqual([
      ['undated', 'west'],
      ['east'],
      [],
    ]);
    expect(listCaptures(db, { search: 'boil', from: 1, count: 1 })).toMatchObject({
      total: 2,
      captures: [{ id: 'east' }],
    });
  });

  it('has a version that grows with everything it shows, and not with readings', () => {
    const db = store();
    let last = listVersion(db);
    const grows = (what: string, change: () => void, by: boolean = true) => {
      change();
      expect(listVersion(db) > last, what).toBe(by);
      last = listVersion(db);
    };
    let key = 0;
    grows('a recording', () => (key = record(db, 'a')));
    const appender = createAppender(db, key, owner);
    grows(
      'a line',
      () => appender.append([{ kind: 'line', elapsedS: 1, port: 'p', bytes: Buffer.from('1'), readings: [] }]),
      false,
    );
    grows('a gap', () => appender.append([{ kind: 'mark', mark: { elapsedS: 1, kind: 'gap', text: '' } }]), false);
    let trial = 0;
    grows('a trial', () => (trial = addTrial(db, key, { pressure: 2, unit: 'inH2O', lit: true })));
    grows('a void trial', () => voidTrial(db, key, trial, 'wrong'));
    grows('a note', () => addNote(db, key, { at: startedAt, text: 'x' }));
    grows('the same burner again', () => putBurner(db, { id: 'b', ...facts, setup: { seed: 2 } }), false);
    grows('a renamed burner', () => putBurner(db, { id: 'b', ...facts, name: 'New', setup: {} }));
    grows('the end', () => endCapture(db, key, owner, 'complete'));
    expect(allCaptures(db)).toMatchObject([{ id: 'a', status: 'complete', trials: 0, lines: 1, durationS: 1 }]);
  });

  it('tells which captures are not complete', () => {
    const db = store();
    record(db, 'now');
    endCapture(db, record(db, 'done'), owner, 'complete');
    endCapture(db, record(db, 'cut', '2027-01-01T00:00:00Z'), owner, 'interrupted');
    expect(unfinishedCaptures(db).map(({ id, status }) => [id, status])).toEqual([
      ['now', 'recording'],
      ['cut', 'interrupted'],
    ]);
    // However many have come interrupted from files, the recording is among the few that are told.
    for (let n = 0; n < 120; n += 1)
      take(db, fromFile(`file-${n}`, { interrupted: true, startedAt: '2028-01-01T00:00:00Z' }));
    const told = unfinishedCaptures(db);
    expect([told.length, told[0]!.id]).toEqual([100, 'now']);
  });
});

it('a capture is found by the beginning of its id only where one id alone begins so, whatever signs it has', () => {
  const db = store();
  for (const id of ['ab%1', 'ab_2', 'ab', 'b\u{1F525}x', 'AB3']) take(db, fromFile(id));
  const found = (id: string) => {
    const row = findRow(db, id);
    return typeof row === 'string' ? row : row.id;
  };
  expect(['ab', 'ab%', 'ab_', 'a', 'b', 'A', 'ab%12', '', '%', '_'].map(found)).toEqual([
    'ab',
    'ab%1',
    'ab_2',
    'ambiguous',
    'b\u{1F525}x',
    'AB3',
    'missing',
    'missing',
    'missing',
    'missing',
  ]);
});
