import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { NamedBytes } from '../../../electron/host/jobs/jobs.ts';
import { importFiles } from '../../../electron/host/jobs/import-files.ts';
import { findRow } from '../../../electron/host/store/read/capture-rows.ts';
import { addNote } from '../../../electron/host/store/captures.ts';
import type { Store } from '../../../electron/host/store/open.ts';
import { openStore } from '../../../electron/host/store/open.ts';
import { readCapture } from '../../../electron/host/store/read/read-capture.ts';
import { writeDataPackage, writeZip } from '../../../shared/files/data-package.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { fault } from '../../../shared/model/faults.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { valueOf } from '../test-host.ts';

const addedAt = '2026-11-25T10:00:00Z';

/** A visit with difficult content: flagged readings, bytes that are no UTF-8, NULs, line breaks and quotes, -0, marks out of order. */
const visit: Capture = {
  id: 'visit-1',
  startedAt: '2026-11-25T09:00:00+01:00',
  technician: 'R. Odegaard',
  burner: { site: 'North mill', name: 'Boiler "2"' },
  meters: [{ port: 'COM3', profile: 'Gauge' }],
  setup: { minimumSignal: { value: 1.25, unit: 'V' }, seed: 7 },
  readings: [
    { role: 'pilot_pressure', unit: 'inH2O', elapsedS: 0.1, value: 2.41, raw: '2.41 inH2O', line: 1 },
    { role: 'pilot_pressure', unit: 'inH2O', elapsedS: 0.2, value: NaN, flag: 'unreadable', raw: 'ÿþ\u0000', line: 2 },
    { role: 'flame_signal', unit: 'V', elapsedS: 0.3, value: NaN, flag: 'overload', raw: 'OL', line: 3 },
    { role: 'flame_signal', unit: 'V', elapsedS: 0.4, value: -0, raw: '-0,0 "zero"' },
  ],
  lines: [
    { seq: 1, elapsedS: 0.1, port: 'COM3', raw: '2.41 inH2O', encoding: 'utf8' },
    { seq: 2, elapsedS: 0.2, port: 'COM3', raw: 'ÿþ\u0000', encoding: 'latin1' },
    { seq: 3, elapsedS: 0.3, port: 'COM4', raw: 'OL', encoding: 'utf8' },
    { seq: 4, elapsedS: 0.35, port: 'COM4', raw: '', encoding: 'utf8' },
  ],
  marks: [
    { elapsedS: 5, kind: 'note', text: 'two\nlines, "quoted"\r\n' },
    { elapsedS: 1, kind: 'sweep-start', text: '' },
  ],
  trials: [
    { pressure: 2.5, unit: 'inH2O', sparkDelayS: 0, lit: true, timeToProveS: 1.25, elapsedS: 3 },
    { pressure: 600, unit: 'Pa', sparkDelayS: 5, lit: false },
    {
      pressure: 2.45,
      unit: 'inH2O',
      lit: true,
      timeToProveFromSparkS: 0.75,
      knownBy: 'corrected',
      corrects: 1,
      reason: 'read\r\nwrong',
      purgeS: 61.5,
      purgeBy: 'air',
      pressureBefore: 0.2,
      pressureAfter: 0.25,
      note: '# no comment',
    },
    { pressure: 600, unit: 'Pa', sparkDelayS: 5, lit: false, status: 'void', corrects: 2, reason: 'valve shut' },
  ],
  notes: [{ at: '2026-11-25T10:00:00Z', text: 'a note' }],
};

let store: Store;
beforeEach(() => {
  store = valueOf(openStore(testFolder()));
});
afterEach(() => store.close());

/** Nobody looks at the progress. */
const unseen = () => {};
const zipOf = (capture: Capture) => writeZip(writeDataPackage(capture));
const importVisit = (capture: Capture) =>
  valueOf(
    importFiles(store, { kind: 'import', files: [{ name: 'visit.zip', bytes: zipOf(capture) }], addedAt }, unseen),
  );
const stored = (): Capture => {
  const row = findRow(store.db, visit.id);
  if (typeof row === 'string') throw new Error(row);
  return readCapture(store.db, row);
};

/** One change of the file, and the parts that are reported to differ. */
const changes: [what: string, differs: string[], changed: Partial<Capture>][] = [
  ['a value', ['readings'], { readings: visit.readings.with(0, { ...visit.readings[0]!, value: 2.42 }) }],
  ['a time', ['readings'], { readings: visit.readings.with(3, { ...visit.readings[3]!, elapsedS: 0.5 }) }],
  ['a flag', ['readings'], { readings: visit.readings.with(2, { ...visit.readings[2]!, flag: 'unreadable' }) }],
  ['a reading less', ['readings'], { readings: visit.readings.slice(0, 3) }],
  ['the bytes of a line', ['lines'], { lines: visit.lines.with(3, { ...visit.lines[3]!, raw: 'x' }) }],
  ['a port', ['lines'], { lines: visit.lines.with(0, { ...visit.lines[0]!, port: 'COM9' }) }],
  ['a trial', ['trials'], { trials: visit.trials.with(1, { ...visit.trials[1]!, lit: true }) }],
  ['a spark not known', ['trials'], { trials: visit.trials.with(1, { pressure: 600, unit: 'Pa', lit: false }) }],
  ['a reason', ['trials'], { trials: visit.trials.with(3, { ...visit.trials[3]!, reason: 'other' }) }],
  ['a purge', ['trials'], { trials: visit.trials.with(2, { ...visit.trials[2]!, purgeBy: 'hand' }) }],
  ['a correction less', ['trials'], { trials: visit.trials.slice(0, 3) }],
  ['a mark less', ['marks'], { marks: visit.marks.slice(1) }],
  ['the setup and the trials', ['trials', 'setup'], { setup: { seed: 8 }, trials: [] }],
];

describe('a capture that is imported again', () => {
  it('unchanged, with notes written meanwhile or keys in another order, adds nothing and gives no notice', () => {
    expect(importVisit(visit)).toEqual({ captures: [{ id: visit.id, added: true }], problems: [] });
    const same = { captures: [{ id: visit.id, added: false }], problems: [] };
    expect(importVisit(visit)).toEqual(same);
    const { key } = findRow(store.db, visit.id) as { key: number };
    addNote(store.db, key, { at: addedAt, text: 'written afterwards' });
    const { minimumSignal, seed } = visit.setup;
    expect(importVisit({ ...visit, setup: { seed, minimumSignal } })).toEqual(same);
    expect(importVisit(stored())).toEqual(same);
  });

  it.each(changes)(
    'with other content (%s) is reported with the parts that differ, and the store keeps its own',
    (...change) => {
      const [, differs, changed] = change;
      importVisit(visit);
      const before = stored();
      const notice = `visit.zip: capture visit-1 is already in the store, but differs from this file in its ${differs.join(', ')}. The one in the store was left unchanged.`;
      expect(
        fault('capture-differs', { file: 'visit.zip', capture: 'visit-1', parts: differs.join(', ') }).message,
      ).toBe(notice);
      expect(importVisit({ ...visit, ...changed })).toEqual({
        captures: [
          {
            id: visit.id,
            added: false,
            differs,
            notices: [notice],
          },
        ],
        problems: [],
      });
      expect(stored()).toEqual(before);
    },
  );

  it('with a practice mark that the complete capture in the store has not is told so, and the other way round', () => {
    importVisit(visit);
    const [again] = importVisit({ ...visit, practice: true }).captures;
    expect(again).toMatchObject({ added: false, differs: ['practice'] });
    expect(again?.notices?.[0]).toContain('differs from this file in its practice mark.');
    importVisit({ ...visit, id: 'practice-1', practice: true });
    expect(importVisit({ ...visit, id: 'practice-1' }).captures).toMatchObject([
      { added: false, differs: ['practice'] },
    ]);
    expect(importVisit({ ...visit, id: 'practice-1', practice: true }).captures).toEqual([
      { id: 'practice-1', added: false },
    ]);
  });
});

const samples = join(import.meta.dirname, '..', '..', '..', 'sample-captures');
const sampleNames = readdirSync(samples).filter((name) => /^[^.]+\.csv$/u.test(name));

/** Imports files into a new store; gives the only capture in it. */
function intoNewStore(files: NamedBytes[]): Capture {
  const other = valueOf(openStore(testFolder()));
  try {
    const { captures, problems } = valueOf(importFiles(other, { kind: 'import', files, addedAt }, unseen));
    expect({ captures, problems }).toEqual({ captures: [{ id: expect.any(String), added: true }], problems: [] });
    const row = findRow(other.db, captures[0]!.id);
    if (typeof row === 'string') throw new Error(row);
    return readCapture(other.db, row);
  } finally {
    other.close();
  }
}

describe('export, import and export again', () => {
  // SQLite turns -0.0 into 0.0 when it stores it (sqlite.org, "Floating Point Numbers", from memory).
  it('keep all difficult content but the sign of a zero, which its text keeps', () => {
    expect(intoNewStore([{ name: 'a.zip', bytes: zipOf(visit) }])).toEqual({
      ...visit,
      readings: visit.readings.with(3, { ...visit.readings[3]!, value: 0 }),
      marks: visit.marks.toReversed(),
    });
  });

  it.each([...sampleNames, 'difficult content'])('give the same bytes: %s', (name) => {
    const files = [name, name.replace('.csv', '.setup.json'), name.replace('.csv', '.trials.csv')];
    const capture = sampleNames.includes(name)
      ? intoNewStore(files.map((file) => ({ name: file, bytes: new Uint8Array(readFileSync(join(samples, file))) })))
      : intoNewStore([{ name: 'a.zip', bytes: zipOf(visit) }]);
    const first = zipOf(capture);
    const second = zipOf(intoNewStore([{ name: 'a.zip', bytes: first }]));
    expect(Buffer.from(second).equals(Buffer.from(first))).toBe(true);
  });
});
