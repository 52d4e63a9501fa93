import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { openStore } from '../../../../electron/host/store/open.ts';
import { migrations } from '../../../../electron/host/store/migrations/all.ts';

const program = fileURLToPath(new URL('open-process.ts', import.meta.url));

/** A process that is about to open the store in a folder. */
export interface Opening {
  /** Lets it open the store. */
  go(): void;
  kill(): void;
  /** What it printed until it ended: "opened", the fault, or nothing when it was killed before. */
  ended: Promise<string>;
}

/** @param lastCall  the number of calls to SQLite after which it is killed */
export async function prepareOpening(folder: string, lastCall?: number): Promise<Opening> {
  const child = spawn(process.execPath, [program, folder, ...(lastCall === undefined ? [] : [`${lastCall}`])], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  child.stdin.on('error', () => {}); // it was killed
  let out = '';
  const ended = new Promise<string>((resolve) => {
    child.once('close', () => resolve(out.replace('ready\n', '').trim()));
  });
  child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text));
  await once(child.stdout, 'data');
  return { go: () => void child.stdin.write('go\n'), kill: () => void child.kill('SIGKILL'), ended };
}

/** Opens the store in this process: the fault in words, or "opened" when it is intact and migrated to the end. */
export function openHere(folder: string): string {
  const store = openStore(folder);
  if (!store.ok) return `${store.fault.code}: ${store.fault.message}`;
  const { db, close } = store.value;
  const intact = db.pragma('integrity_check', { simple: true });
  const version = db.pragma('user_version', { simple: true });
  close();
  return intact === 'ok' && version === migrations.length ? 'opened' : `version ${String(version)}, ${String(intact)}`;
}
