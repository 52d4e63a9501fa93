import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const here = (file: string) => fileURLToPath(new URL(file, import.meta.url));

/** Simulated meters on pseudo-terminals, which wait for the file `go`. */
export interface SimulatedMeters {
  folder: string;
  ports: string[];
  /** When this file is created, the meters begin to send. */
  go: string;
  /** Ends the meters and removes the folder. */
  stop(): void;
}

/**
 * Starts simulated meters, each a process of its own that sends `lines` lines at `perSecond` (0: as fast as they are taken).
 */
export async function startMeters(meters: number, lines: number, perSecond: number): Promise<SimulatedMeters> {
  const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-meters-'));
  const go = join(folder, 'go');
  const ports = Array.from({ length: meters }, (_, i) => join(folder, `port-${i + 1}`));
  const feed = [process.execPath, here('feeder.ts'), go, lines, perSecond].join(' ');
  const feeders = ports.map((port) =>
    spawn('socat', ['-u', '-b', '65536', `EXEC:${feed}`, `pty,raw,echo=0,link=${port}`], { stdio: 'ignore' }),
  );
  while (!ports.every((port) => existsSync(port))) await wait(10);
  return {
    folder,
    ports,
    go,
    stop() {
      for (const feeder of feeders) feeder.kill('SIGTERM');
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Lets the meters of `go` begin. */
export const start = (go: string): void => writeFileSync(go, '');

/** Runs a program of this folder in a process of its own and returns the JSON that it prints. */
export async function runProcess<T>(file: string, args: string[]): Promise<T> {
  const child = spawn(process.execPath, ['--expose-gc', here(file), ...args], { stdio: ['ignore', 'pipe', 'inherit'] });
  let out = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text));
  const status = await new Promise((resolve) => {
    child.on('close', resolve);
  });
  if (status !== 0) throw new Error(`${file} ended with ${String(status)}`);
  return JSON.parse(out) as T;
}
