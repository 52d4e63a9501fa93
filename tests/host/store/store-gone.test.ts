import { existsSync, renameSync, rmSync, symlinkSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { waitForBanner, openTestHost, storedCapture, lineTexts, neverAborted, valueOf } from '../test-host.ts';

it.each([
  ['deleted', (folder: string) => rmSync(folder, { recursive: true })],
  ['moved', (folder: string) => renameSync(folder, `${folder}-elsewhere`)],
  [
    'replaced by a broken link',
    (folder: string) => {
      rmSync(folder, { recursive: true });
      symlinkSync(folder, folder);
    },
  ],
])(
  'a store whose folder is %s during a recording: reported at once, never completed, saved as a file at the end',
  async (_what, spoil) => {
    const folder = testFolder();
    const { host, send, record, banner } = await openTestHost(folder);
    const capture = await record();
    send('1\r\n2\r\n3\r\n');
    await waitUntil('three lines', () => storedCapture(folder, capture).lines.length === 3);
    spoil(folder);
    expect((await waitForBanner('store-gone', banner)).message).toContain(folder);
    send('4\r\n5\r\n');
    expect(await host.handlers['captures.finish']({ capture }, neverAborted)).toMatchObject({
      fault: { code: 'store-gone' },
    });
    const closeFault = await host.close();
    expect(closeFault).toMatchObject({ code: 'lines-rescued', facts: { lines: 5, capture } });
    const file = closeFault?.facts?.['file'] as string;
    const bytes = new Uint8Array(await readFile(file));
    rmSync(file);
    expect(existsSync(folder)).toBe(false);
    rmSync(folder, { force: true });

    const next = await openTestHost(folder);
    const imported = await next.host.handlers['files.import']({ files: [{ name: 'rescue.zip', bytes }] }, neverAborted);
    expect(valueOf(imported).captures).toEqual([{ id: capture, added: true }]);
    expect(lineTexts(storedCapture(folder, capture))).toEqual(['1', '2', '3', '4', '5']);
  },
);
