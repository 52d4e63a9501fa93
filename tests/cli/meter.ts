import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { onTestFinished } from 'vitest';
import { until } from './call.ts';

export interface FakeMeter {
  path: string;
  /** Writes a line as a meter would. */
  send(text: string): void;
  sendBytes(bytes: Uint8Array): void;
  /** The cable is pulled: the port goes away. */
  unplug(): void;
}

/** A meter on a pseudo-terminal of its own (socat), gone after the test. */
export async function plugIn(path: string): Promise<FakeMeter> {
  const socat = spawn('socat', ['-u', 'STDIN', `pty,raw,echo=0,link=${path}`], { stdio: ['pipe', 'ignore', 'ignore'] });
  const gone = () => socat.kill('SIGKILL');
  onTestFinished(() => void gone());
  socat.stdin.on('error', () => {}); // unplugged while it was sending
  await until(`the pseudo-terminal ${path}`, () => existsSync(path));
  return {
    path,
    send: (text) => socat.stdin.write(text),
    sendBytes: (bytes) => socat.stdin.write(bytes),
    unplug: gone,
  };
}

/** Sends "1", "2", ... scaled as the meter would print them, every `everyMs`, until the test is over. */
export function count(meter: FakeMeter, everyMs: number, print: (n: number) => string): { sent(): number } {
  let n = 0;
  const timer = setInterval(() => {
    n += 1;
    meter.send(`${print(n)}\r\n`);
  }, everyMs);
  onTestFinished(() => clearInterval(timer));
  return { sent: () => n };
}
