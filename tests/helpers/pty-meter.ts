import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { onTestFinished } from 'vitest';
import { waitUntil } from './wait-until.ts';

export interface FakeMeter {
  path: string;
  /** Writes a line, or bytes, as a meter would. */
  send(data: string | Uint8Array): void;
  /** The cable is pulled: the port goes away. */
  unplug(): void;
}

/** A meter on a pseudo-terminal of its own (socat), removed after the test. */
export const plugIn = (path: string): Promise<FakeMeter> => onPseudoTerminal(path, ['-u', 'STDIN']);

/** The same, for a meter that is polled: `onBytes` gets what is written to it. */
export const plugInPolled = (path: string, onBytes: (bytes: Buffer) => void): Promise<FakeMeter> =>
  onPseudoTerminal(path, ['STDIO'], onBytes);

async function onPseudoTerminal(
  path: string,
  address: string[],
  onBytes?: (bytes: Buffer) => void,
): Promise<FakeMeter> {
  const socat = spawn('socat', [...address, `pty,raw,echo=0,link=${path}`], { stdio: ['pipe', 'pipe', 'ignore'] });
  const unplug = () => socat.kill('SIGKILL');
  onTestFinished(() => void unplug());
  socat.stdin.on('error', () => {}); // unplugged while it was sending
  socat.stdout.on('data', (bytes: Buffer) => onBytes?.(bytes));
  await waitUntil(`the pseudo-terminal ${path}`, () => existsSync(path));
  return { path, send: (data) => socat.stdin.write(data), unplug };
}

/** Sends 1, 2, ... as `print` formats them, every `everyMs` milliseconds, until the test is over. */
export function count(meter: FakeMeter, everyMs: number, print: (n: number) => string): { sent(): number } {
  let n = 0;
  const timer = setInterval(() => {
    n += 1;
    meter.send(`${print(n)}\r\n`);
  }, everyMs);
  onTestFinished(() => clearInterval(timer));
  return { sent: () => n };
}
