import { chmodSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, it, vi } from 'vitest';
import { openBrowser } from '../../electron/web/open-browser.ts';
import { testFolder } from '../helpers/test-folder.ts';

// Where a browser is looked for by its name on the path.
const onLinux = it.skipIf(process.platform !== 'linux');
afterEach(() => void vi.unstubAllEnvs());

/** Puts programs that note their arguments first, and alone, on the path. */
function withPrograms(...names: string[]): (name: string) => Promise<string> {
  const folder = testFolder();
  for (const name of names) {
    const file = join(folder, name);
    writeFileSync(file, `#!/bin/sh\necho "$@" > ${file}.tmp; /bin/mv ${file}.tmp ${file}.arguments\n`);
    chmodSync(file, 0o755);
  }
  vi.stubEnv('PATH', folder);
  return (name) =>
    vi.waitFor(() => {
      expect(existsSync(join(folder, `${name}.arguments`))).toBe(true);
      return readFileSync(join(folder, `${name}.arguments`), 'utf8').trim();
    });
}

onLinux('opens a window of its own where a browser has such windows', async () => {
  const argumentsOf = withPrograms('chromium', 'xdg-open');
  openBrowser('/pages/a b.html', () => {});
  expect(await argumentsOf('chromium')).toBe('--app=file:///pages/a%20b.html');
});

onLinux('opens the default browser otherwise', async () => {
  const argumentsOf = withPrograms('xdg-open');
  openBrowser('/pages/a.html', () => {});
  expect(await argumentsOf('xdg-open')).toBe('file:///pages/a.html');
});

onLinux('says when there is no browser', async () => {
  withPrograms();
  const onFailure = vi.fn();
  openBrowser('/pages/a.html', onFailure);
  await vi.waitFor(() => expect(onFailure).toHaveBeenCalledOnce());
});
