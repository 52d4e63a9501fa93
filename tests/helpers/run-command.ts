import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';

const main = fileURLToPath(new URL('../../electron/cli/main.ts', import.meta.url));

export interface Ended {
  status: number | null;
  out: string;
  err: string;
}

/** A folder for one test, gone after it. */
export function testFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-cli-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export interface Running {
  child: ChildProcess;
  ended: Promise<Ended>;
  out(): string;
  err(): string;
}

/** Starts the commands as a person would: a process of its own, in `cwd`, with a store in `cwd`/store. */
export function startCommand(args: string[], cwd: string, env: Record<string, string> = {}): Running {
  const child = spawn(process.execPath, [main, ...args], {
    cwd,
    env: { ...process.env, PILOT_BENCH_DATA: join(cwd, 'store'), DISPLAY: '', WAYLAND_DISPLAY: '', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let out = '';
  let err = '';
  child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text));
  child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text));
  const ended = new Promise<Ended>((resolve) => {
    child.on('close', (status) => resolve({ status, out, err }));
  });
  return { child, ended, out: () => out, err: () => err };
}

/** Runs one command to its end. */
export const runCommand = (args: string[], cwd: string, env?: Record<string, string>): Promise<Ended> =>
  startCommand(args, cwd, env).ended;

/** Waits until `met` gives something, looking often; fails with `what` after `limitMs`. */
export async function waitUntil<T>(what: string, met: () => T | undefined | false, limitMs = 15_000): Promise<T> {
  const endMs = performance.now() + limitMs;
  for (;;) {
    const value = met();
    if (value) return value;
    if (performance.now() > endMs) throw new Error(`waited too long for ${what}`);
    await new Promise((resolve) => {
      setTimeout(resolve, 20);
    });
  }
}

/** The lines of JSON in a result. */
export const jsonLines = (out: string): Record<string, unknown>[] =>
  out
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Record<string, unknown>);
