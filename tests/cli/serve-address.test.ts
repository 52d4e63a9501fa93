import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { startCommand } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { waitUntil } from '../helpers/wait-until.ts';
import { keyOf, openSocket, sayHello } from '../web/test-workbench.ts';

/** Everything that `ps` can show of the running processes: their arguments and environments. */
const shownByPs = (): string =>
  readdirSync('/proc')
    .filter((name) => /^\d+$/u.test(name))
    .flatMap((pid) => ['cmdline', 'environ'].map((file) => textOf(`/proc/${pid}/${file}`)))
    .join('\n');

function textOf(file: string): string {
  try {
    return readFileSync(file, 'latin1');
  } catch {
    return ''; // it ended meanwhile
  }
}

const addressIn = (file: string): string => /http:[^"]+/u.exec(readFileSync(file, 'utf8'))?.[0] ?? '';

describe('the address of serve', () => {
  it('reaches the browser through a file that only this user can read, and is in no argument or environment', async () => {
    const folder = testFolder();
    mkdirSync(join(folder, 'bin'));
    // Stands for a browser, the first one on the path, and stays while the arguments are looked at.
    const browser = join(folder, 'bin', 'chromium');
    writeFileSync(browser, `#!/bin/sh\nprintf %s "\${1#--app=}" > '${folder}/opened'\nsleep 3\n`);
    chmodSync(browser, 0o755);
    const serving = startCommand(['serve'], folder, {
      DISPLAY: ':0',
      PATH: `${join(folder, 'bin')}${delimiter}${process.env['PATH'] ?? ''}`,
    });
    await waitUntil('the browser', () => existsSync(join(folder, 'opened')));
    const file = fileURLToPath(readFileSync(join(folder, 'opened'), 'utf8'));
    const printed = keyOf(serving.out().trim().split(' ').at(-1) ?? '');
    const handed = addressIn(file);
    expect(serving.out().split('\n')).toHaveLength(2);
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(statSync(join(file, '..')).mode & 0o777).toBe(0o700);
    const shown = shownByPs();
    expect(shown).toContain(file);
    const keys = [printed, keyOf(handed)];
    expect(new Set(keys).size).toBe(2);
    for (const key of keys) {
      expect(key).toHaveLength(43);
      expect(shown).not.toContain(key);
    }

    // Used once, the file leads a further browser in with another key; so nobody is locked out whose browser was closed.
    const authority = new URL(handed).host;
    expect((await sayHello(openSocket({ authority }), { key: keyOf(handed) }))?.kind).toBe('welcome');
    await waitUntil('a new address', () => addressIn(file) !== handed);
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect((await sayHello(openSocket({ authority }), { key: keyOf(addressIn(file)) }))?.kind).toBe('welcome');
    expect((await sayHello(openSocket({ authority }), { key: keyOf(handed) }))?.kind).toBe('refused');

    serving.child.kill('SIGTERM');
    expect((await serving.ended).status).toBe(0);
    expect(existsSync(file)).toBe(false);
  }, 30_000);
});
