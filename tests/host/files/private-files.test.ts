import {
  chmodSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createNetworkSwitch } from '../../../electron/host/acquire/ports/network-switch.ts';
import { makePrivateFolder } from '../../../electron/host/files/private-folder.ts';
import { writeAtomically } from '../../../electron/host/files/write-whole.ts';
import { openStore } from '../../../electron/host/store/open.ts';
import { testFolder } from '../../helpers/test-folder.ts';

const modeOf = (path: string) => (statSync(path).mode & 0o777).toString(8);

/** Modes of everything in a folder. */
const modesIn = (folder: string) =>
  Object.fromEntries(readdirSync(folder).map((name) => [name, modeOf(join(folder, name))]));

function openedStore(folder: string) {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.fault.message);
  opened.value.db.exec('CREATE TABLE IF NOT EXISTS written (one)');
  return opened.value;
}

describe('what Pilot Bench keeps', () => {
  let before: number;
  // What a careless login leaves: without this, the umask of the tests might do the work.
  beforeEach(() => void (before = process.umask(0)));
  afterEach(() => void process.umask(before));

  it('is for this user only: the folder of the store and the files that SQLite makes in it', () => {
    const folder = join(testFolder(), 'data', 'store');
    const store = openedStore(folder);
    expect(modesIn(folder)).toEqual({
      'pilot-bench.sqlite': '600',
      'pilot-bench.sqlite-shm': '600',
      'pilot-bench.sqlite-wal': '600',
    });
    expect([modeOf(folder), modeOf(join(folder, '..'))]).toEqual(['700', '700']);
    store.close();
  });

  it('is closed to others when an earlier version left it open', () => {
    const folder = testFolder();
    openedStore(folder).close();
    writeFileSync(join(folder, 'network.json'), '{"allowed":true}');
    for (const name of readdirSync(folder)) chmodSync(join(folder, name), 0o644);
    chmodSync(folder, 0o755);
    openedStore(folder).close();
    expect(modesIn(folder)).toEqual({ 'pilot-bench.sqlite': '600', 'network.json': '600' });
    expect(modeOf(folder)).toBe('700');
    expect(createNetworkSwitch(folder, undefined).allowed()).toBe(true);
  });

  it('in a folder with other things closes its own files only', () => {
    const folder = testFolder();
    chmodSync(folder, 0o755);
    writeFileSync(join(folder, 'photo.jpg'), '', { mode: 0o644 });
    const store = openedStore(folder);
    expect(modesIn(folder)).toMatchObject({ 'photo.jpg': '644', 'pilot-bench.sqlite': '600' });
    expect(modeOf(folder)).toBe('755');
    store.close();
  });

  it('leaves a folder of all users and what a link leads to as they are', () => {
    const folder = testFolder();
    chmodSync(folder, 0o1777);
    makePrivateFolder(folder);
    expect(lstatSync(folder).mode & 0o7777).toBe(0o1777);
    const store = join(folder, 'store');
    mkdirSync(store);
    writeFileSync(join(folder, 'of-others'), '', { mode: 0o644 });
    symlinkSync(join(folder, 'of-others'), join(store, 'network.json'));
    makePrivateFolder(store);
    expect(modeOf(join(folder, 'of-others'))).toBe('644');
  });

  it('stays private when it is written again', async () => {
    const folder = testFolder();
    const file = join(folder, 'network.json');
    writeFileSync(file, '', { mode: 0o644 });
    expect((await createNetworkSwitch(folder, undefined).set(true)).ok).toBe(true);
    expect(modeOf(file)).toBe('600');
    expect(readdirSync(folder)).toEqual(['network.json']);
  });
});

describe('a file that the user names', () => {
  it.each([
    ['what the umask gives when it is new', 0o027, undefined, '640'],
    ['its mode when it is replaced, though the umask would take some of it away', 0o077, 0o664, '664'],
    ['its mode when it is replaced, though the umask would allow more', 0o000, 0o600, '600'],
  ])('gets %s', async (_what, umask, older, expected) => {
    const file = join(testFolder(), 'proof.html');
    if (older !== undefined) {
      writeFileSync(file, 'older');
      chmodSync(file, older);
    }
    const before = process.umask(umask);
    try {
      expect((await writeAtomically(file, 'newer')).ok).toBe(true);
    } finally {
      process.umask(before);
    }
    expect([readFileSync(file, 'utf8'), modeOf(file)]).toEqual(['newer', expected]);
  });

  it('is no more open than it will be while it is written, under a name that nobody can know before', async () => {
    const folder = testFolder();
    const names = new Set<string>();
    for (let i = 0; i < 5; i += 1) {
      const file = join(folder, `proof-${i}.zip`);
      writeFileSync(file, '', { mode: 0o600 });
      const writing = writeAtomically(file, new Uint8Array(30_000_000));
      let found: string | undefined;
      while (!found) {
        await new Promise(setImmediate);
        found = readdirSync(folder).find((name) => name.endsWith('.part'));
      }
      expect(statSync(join(folder, found)).mode & 0o077).toBe(0);
      names.add(found);
      await writing;
    }
    expect(names.size).toBe(5);
  });
});
