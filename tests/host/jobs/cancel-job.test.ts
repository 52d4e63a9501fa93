import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { testFolder } from '../../helpers/test-folder.ts';
import { openTestHost } from '../test-host.ts';

it('a job that is given up at any moment of its start leaves the host alive', { timeout: 120_000 }, async () => {
  const folder = testFolder();
  const { host, record, send } = await openTestHost(folder);
  const capture = await record();
  for (let k = 0; k < 200; k += 1) send(`2.${100 + k}\r\n`);
  await host.close();
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['--disable-warning=ExperimentalWarning', join(import.meta.dirname, 'cancel-often.ts'), folder, capture],
    { encoding: 'utf8' },
  );
  expect(stderr).toBe('');
  expect({ status, stdout }).toEqual({ status: 0, stdout: 'alive\n' });
});
