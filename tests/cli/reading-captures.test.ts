import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readBytes, readText } from '../../electron/cli/captures/files.ts';
import { missingStore } from '../../electron/cli/captures/open-store.ts';
import { fileOrCapture } from '../../electron/cli/captures/store-capture.ts';
import { fail, ok } from '../../shared/model/outcome.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { openTestHost } from '../host/test-host.ts';

describe('a file', () => {
  it('that is missing or is a folder gives its fault', async () => {
    const folder = testFolder();
    expect(await readText(join(folder, 'gone.csv'))).toMatchObject({ fault: { code: 'file-missing' } });
    expect(await readBytes(folder)).toMatchObject({
      fault: { code: 'file-unreadable', facts: { file: folder, reason: 'it is a folder' } },
    });
    writeFileSync(join(folder, 'file'), '');
    expect(await readText(join(folder, 'file', 'inside.csv'))).toMatchObject({
      fault: { code: 'file-unreadable', facts: { reason: 'a part of its path is not a folder' } },
    });
  });
});

describe('a name that may be a file or a capture', () => {
  it('is neither when there is no such file, nor such a capture in the store', async () => {
    const { host } = await openTestHost(testFolder());
    const missing = await fileOrCapture('no-such-visit', {}, async () => ok(host));
    expect(missing).toMatchObject({
      ok: false,
      fault: { code: 'file-or-capture-missing', facts: { what: 'no-such-visit' } },
    });
  });

  it('is looked up in the store only when it does not look like a file', async () => {
    const noStore = () => Promise.reject(new Error('the store was opened'));
    for (const name of ['gone.csv', 'gone.zip', 'some/gone', 'some\\gone'])
      expect(await fileOrCapture(name, {}, noStore)).toMatchObject({ fault: { code: 'file-missing' } });
  });

  it('names both when there is no store either', async () => {
    const folder = testFolder();
    const missing = missingStore({ data: folder });
    expect(missing).toMatchObject({ code: 'store-missing', facts: { folder } });
    const found = await fileOrCapture('no-such-visit', {}, async () => fail(missing!));
    expect(found).toMatchObject({ fault: { code: 'store-missing' } });
    expect(found.ok ? '' : found.fault.message).toMatch(/^There is no file no-such-visit\. There is no Pilot Bench store in /u);
  });

  it('needs no store to be created for it', () => {
    const folder = testFolder();
    missingStore({ data: join(folder, 'store') });
    expect(missingStore({ data: join(folder, 'store') })?.code).toBe('store-missing');
  });
});
