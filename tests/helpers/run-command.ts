import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';

/** `npm test` names the bundle that it has just built, which loads faster than the source. */
const main = process.env['PILOT_BENCH_CLI'] ?? fileURLToPath(new URL('../../electron/cli/main.ts', import.meta.url));

export interface Ended {
  status: number | null;
  out: string;
  err: string;
}

export interface Running {
  child: ChildProcess;
  ended: Promise<Ended>;
  out(): string;
  err(): string;
}

/** Starts a command as a person would: a process of its own in `cwd`, with a store in `cwd`/store. It is killed after the test if it still runs. */
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
  onTestFinished(async () => {
    child.kill('SIGKILL');
    await ended;
  });
  return { child, ended, out: () => out, err: () => err };
}

/** Runs one command until it ends. */
export const runCommand = (args: string[], cwd: string, env?: Record<string, string>): Promise<Ended> =>
  startCommand(args, cwd, env).ended;

/** The lines of JSON in the output. */
export const jsonLines = (out: string): Record<string, unknown>[] =>
  out
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Record<string, unknown>);
