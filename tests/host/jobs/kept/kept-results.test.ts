import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { serialize } from 'node:v8';
import { createHash } from 'node:crypto';
import { describe, expect, it, onTestFinished } from 'vitest';
import { capturesIn } from '../../../../electron/host/jobs/kept/captures-in.ts';
import { versionOf } from '../../../../electron/host/jobs/kept/engine-version.ts';
import { createKeptResults, resultKey } from '../../../../electron/host/jobs/kept/kept-results.ts';
import { createAppender } from '../../../../electron/host/store/append.ts';
import { addMark, addMeter, addNote, markPractice, setBurner, setSetup } from '../../../../electron/host/store/captures.ts'; // prettier-ignore
import { importCapture } from '../../../../electron/host/store/import/import-capture.ts';
import { openStore } from '../../../../electron/host/store/open.ts';
import { findExactRow } from '../../../../electron/host/store/read/capture-rows.ts';
import { addTrial, correctTrial, voidTrial } from '../../../../electron/host/store/trials.ts';
import type { Capture } from '../../../../shared/model/capture.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import type { Setup } from '../../../../shared/model/setup.ts';
import { testFolder } from '../../../helpers/test-folder.ts';
import { valueOf } from '../../test-host.ts';

const visit: Capture = {
  id: 'visit',
  startedAt: '2026-05-04T10:00:00Z',
  interrupted: true,
  meters: [{ port: 'COM3', profile: 'Gauge' }],
  setup: { minimumSignal: { value: 1.25, unit: 'V' } },
  readings: [
    { role: 'pilot_pressure', unit: 'inH2O', elapsedS: 0, value: 2.4, raw: '2.4' },
    { role: 'flame_signal', unit: 'V', elapsedS: 0.1, value: 4.6, raw: '4.6' },
    { role: 'flame_signal', unit: 'V', elapsedS: 0.2, value: Number.NaN, flag: 'overload', raw: 'OL' },
  ],
  lines: [],
  marks: [{ elapsedS: 0, kind: 'sweep-start', text: '' }],
  trials: [{ pressure: 2.4, unit: 'inH2O', sparkDelayS: 0, lit: true }],
  notes: [],
};

/** A store with one capture, and what asks for its result as the jobs do; `computed` counts how often that was computed. */
function keeping(version = { now: '1' }) {
  const folder = testFolder();
  const store = valueOf(openStore(folder));
  onTestFinished(store.close);
  importCapture(store.db, visit, undefined, '2026-05-05T00:00:00Z', () => {});
  const { key } = findExactRow(store.db, 'visit')!;
  let computed = 0;
  const ask = async (setup?: Setup, ids = ['visit'], name = 'analysis') => {
    const captures = capturesIn(store, createKeptResults(folder), () => version.now);
    const result = captures.result(
      name,
      ids,
      (capture) => {
        computed += 1;
        const { readings, ...rest } = capture;
        return ok({
          answer: computed,
          rest,
          values: Float64Array.from(readings, ({ value }) => value),
          none: undefined,
        });
      },
      setup,
    );
    return valueOf(await valueOf(result)());
  };
  return { folder, db: store.db, key, ask, count: () => computed };
}

it('a result is computed once: what is asked for again is what was computed, with NaN, undefined and arrays of numbers', async () => {
  const { ask, count } = keeping();
  const first = await ask();
  expect(first.values).toEqual(Float64Array.of(2.4, 4.6, Number.NaN));
  expect(await ask()).toStrictEqual(first);
  expect(count()).toBe(1);
});

it.each<[string, (kept: ReturnType<typeof keeping>) => void]>([
  ['a mark', ({ db, key }) => addMark(db, key, { elapsedS: 3, kind: 'sweep-end', text: '' })],
  ['a discarded sweep', ({ db, key }) => addMark(db, key, { elapsedS: 0, kind: 'sweep-void', text: 'wrong' })],
  ['a changed mark', ({ db }) => db.exec('UPDATE mark SET elapsed_s = 0.05')],
  ['a removed mark', ({ db }) => db.exec('DELETE FROM mark')],
  ['a trial', ({ db, key }) => addTrial(db, key, { pressure: 2.4, unit: 'inH2O', lit: false })],
  ['a corrected trial', ({ db, key }) => correctTrial(db, key, 1, { changes: { lit: false }, reason: 'typed wrong' })],
  ['a discarded trial', ({ db, key }) => voidTrial(db, key, 1, 'gas was shut')],
  ['another setup', ({ db, key }) => setSetup(db, key, { minimumSignal: { value: 1.26, unit: 'V' } })],
  ['another burner', ({ db, key }) => {
    db.exec("INSERT INTO burner VALUES ('b', '{}', '{}')");
    setBurner(db, key, 'b', { site: 'North mill', name: 'Boiler 2' });
  }],
  ['the practice mark', ({ db, key }) => markPractice(db, key)],
  ['a meter', ({ db, key }) => addMeter(db, key, { port: 'COM4', profile: 'Other' })],
  ['a further reading', ({ db, key }) =>
    createAppender(db, key, undefined).append([
      { kind: 'line', elapsedS: 1, port: 'COM3', bytes: Buffer.from('3'), readings: [{ role: 'flame_signal', unit: 'V', value: 3 }] },
    ])],
  ['a reading in its last digit', ({ db }) => db.exec('UPDATE reading SET value = 2.4000000000000004 WHERE n = 1')],
  ['the time of a reading', ({ db }) => db.exec('UPDATE reading SET elapsed_s = 0.11 WHERE n = 2')],
  ['the flag of a reading', ({ db }) => db.exec("UPDATE reading SET flag = 'unreadable' WHERE n = 3")],
  ['two readings that changed places', ({ db }) =>
    db.exec('UPDATE reading SET n = 9 WHERE n = 1; UPDATE reading SET n = 1 WHERE n = 2; UPDATE reading SET n = 2 WHERE n = 9')],
  ['a unit', ({ db }) => db.exec("UPDATE channel SET unit = 'mV' WHERE role = 'flame_signal'")],
  ['the end of the visit', ({ db }) => db.exec("UPDATE capture SET status = 'complete'")],
])('after %s the old result is not shown anymore', async (_what, change) => {
  const kept = keeping();
  await kept.ask();
  change(kept);
  expect((await kept.ask()).answer).toBe(2);
  expect((await kept.ask()).answer).toBe(2);
}); // prettier-ignore

it('another setup, another name, another order of captures and another program each have results of their own', async () => {
  const version = { now: '1' };
  const { db, ask } = keeping(version);
  importCapture(db, { ...visit, id: 'other' }, undefined, '2026-05-05T00:00:00Z', () => {});
  const asked = [
    () => ask(),
    () => ask({}),
    () => ask({ seed: 2 }),
    () => ask(undefined, ['visit'], 'advice'),
    () => ask(undefined, ['other']),
    () => ask(undefined, ['visit', 'other']),
    () => ask(undefined, ['other', 'visit']),
  ];
  const answers = async () => {
    const all: number[] = [];
    for (const each of asked) all.push((await each()).answer);
    return all;
  };
  expect(await answers()).toEqual([1, 2, 3, 4, 5, 6, 7]);
  expect(await answers()).toEqual([1, 2, 3, 4, 5, 6, 7]);
  version.now = '2';
  expect(await answers()).toEqual([8, 9, 10, 11, 12, 13, 14]);
});

it('a note beside the capture changes no result', async () => {
  const { db, key, ask } = keeping();
  await ask();
  addNote(db, key, { at: '2026-05-06T00:00:00Z', text: 'seen' });
  expect((await ask()).answer).toBe(1);
});

it('of a capture that is being recorded nothing is kept', async () => {
  const { db, folder, ask } = keeping();
  db.exec("UPDATE capture SET status = 'recording', owner_pid = 1, owner_process = '', owner_host = 'h', heartbeat_ms = 0");
  expect([(await ask()).answer, (await ask()).answer]).toEqual([1, 2]);
  expect(existsSync(join(folder, 'results'))).toBe(false);
}); // prettier-ignore

it('a fault is not kept: what failed is tried again', async () => {
  const results = createKeptResults(testFolder());
  const key = resultKey('x');
  expect(await results.keep(key, fail(fault('no-signal')))).toMatchObject({ ok: false });
  expect(results.read(key)).toBeUndefined();
});

describe('a kept result is not trusted', () => {
  const key = resultKey('a');
  const value = { low: 1.13, high: 4.03 };
  const checked = (content: Buffer) => Buffer.concat([createHash('sha256').update(content).digest(), content]);
  it.each<[string, (file: string, bytes: Buffer) => void]>([
    ['cut short', (file, bytes) => writeFileSync(file, bytes.subarray(0, -1))],
    ['empty', (file) => writeFileSync(file, '')],
    ['shorter than its checksum', (file, bytes) => writeFileSync(file, bytes.subarray(0, 20))],
    ['of zeros, as after a power failure', (file, bytes) => writeFileSync(file, Buffer.alloc(bytes.length))],
    ['another with the right checksum, but no result', (file) => writeFileSync(file, checked(Buffer.from('hello')))],
    ['the result of another key', (file) => writeFileSync(file, checked(serialize({ key: resultKey('b'), value })))],
    ['without its key', (file) => writeFileSync(file, checked(serialize(null)))],
    ['a folder', (file) => {
      renameSync(file, `${file}.old`);
      mkdirSync(file);
    }],
  ])('when its file is %s', async (_what, damage) => {
    const folder = testFolder();
    const results = createKeptResults(folder);
    await results.keep(key, ok(value));
    expect(results.read(key)).toEqual(value);
    const file = join(folder, 'results', `${key}.result`);
    damage(file, readFileSync(file));
    expect(results.read(key)).toBeUndefined();
  }); // prettier-ignore

  it('when any one bit of it is wrong, and the next one takes its place', async () => {
    const folder = testFolder();
    const results = createKeptResults(folder);
    await results.keep(key, ok(value));
    const file = join(folder, 'results', `${key}.result`);
    const bytes = readFileSync(file);
    for (let bit = 0; bit < bytes.length * 8; bit += 1) {
      const wrong = Buffer.from(bytes);
      wrong[bit >> 3]! ^= 1 << (bit & 7);
      writeFileSync(file, wrong);
      expect(results.read(key), `bit ${bit}`).toBeUndefined();
    }
    await results.keep(key, ok(value));
    expect(results.read(key)).toEqual(value);
  });
});

it('where nothing can be kept the result is given all the same', async () => {
  const folder = testFolder();
  writeFileSync(join(folder, 'results'), 'a file in its place');
  const results = createKeptResults(folder);
  expect(await results.keep(resultKey('a'), ok(7))).toEqual(ok(7));
  expect(results.read(resultKey('a'))).toBeUndefined();
});

it('those that were not used for the longest time make room, and only this user can read them', async () => {
  const folder = testFolder();
  const results = createKeptResults(folder, 10);
  const keys = Array.from({ length: 10 }, (_, i) => resultKey(String(i)));
  for (const [i, key] of keys.entries()) {
    await results.keep(key, ok(i));
    utimesSync(join(folder, 'results', `${key}.result`), i + 1, i + 1);
  }
  expect(results.read(keys[0]!)).toBe(0); // used now
  await results.keep(resultKey('next'), ok('next'));
  expect(keys.map((key) => results.read(key))).toEqual([0, undefined, undefined, 3, 4, 5, 6, 7, 8, 9]);
  expect(results.read(resultKey('next'))).toBe('next');
  if (process.platform === 'win32') return;
  expect(statSync(join(folder, 'results')).mode & 0o777).toBe(0o700);
  for (const name of readdirSync(join(folder, 'results')))
    expect(statSync(join(folder, 'results', name)).mode & 0o777).toBe(0o600);
});

it('the version of the program is another after each change of its files', () => {
  const folder = testFolder();
  mkdirSync(join(folder, 'inner'));
  const file = (name: string, text: string) => writeFileSync(join(folder, name), text);
  file('a.ts', 'x');
  file('inner/b.js', 'y');
  file('lock.json', '{}');
  const version = () => versionOf(folder, true, [join(folder, 'lock.json')]);
  const seen = [version()];
  expect(version()).toBe(seen[0]);
  for (const change of [
    () => file('a.ts', 'z'),
    () => file('inner/b.js', 'y '),
    () => file('c.ts', ''),
    () => renameSync(join(folder, 'c.ts'), join(folder, 'd.ts')),
    () => (file('a.ts', 'zy'), file('inner/b.js', ' ')),
    () => file('lock.json', '{"@stdlib":1}'),
  ]) {
    change();
    expect(seen).not.toContain(version());
    seen.push(version());
  }
});
