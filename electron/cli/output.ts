import type { Outcome } from '../../shared/model/outcome.ts';

/** How a command ended: 0 done, 1 some input could not be used (the others were done), 2 the call itself was wrong. */
export type Status = 0 | 1 | 2;

/** A call that cannot be meant: told with one sentence and the way to help, exit status 2. */
export class CallError extends Error {
  override name = 'CallError';
}

/** A result: the only thing that goes to standard output. */
export const print = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

/** Everything else: standard error. */
export const say = (line: string): void => {
  process.stderr.write(`${line}\n`);
};

/** A fault as it is told: its sentence for people, its code for programs. */
export interface Told {
  code: string;
  message: string;
}

export const sayFault = ({ message }: Told): void => say(`pilot-bench: ${message}`);

/** A bug: one line for the person; where it came from only for who asks for it. */
export function sayBug(where: string, error: unknown): void {
  say(`pilot-bench: a fault inside Pilot Bench${where}: ${error instanceof Error ? error.message : String(error)}`);
  if (process.env['PILOT_BENCH_DEBUG'] && error instanceof Error) say(error.stack ?? '');
}

/** How writing `file` went, told; gives the exit status. */
export function tellWritten(written: Outcome<undefined>, file: string): Status {
  if (written.ok) say(`Written: ${file}`);
  else sayFault(written.fault);
  return written.ok ? 0 : 1;
}

/** One line of JSON; JSON knows no NaN or Infinity, and nothing here makes one. */
export const printJson = (value: unknown): void => print(JSON.stringify(value));

/** What programs read about a fault. */
export const faultJson = ({ code, message }: Told): Told => ({ code, message });

/**
 * A reader that has seen enough (`| head -1`) closes the pipe: the end of our work, not an error.
 * Called once, before anything is printed.
 */
export function endQuietlyWhenNobodyReads(): void {
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') say(`pilot-bench: the result could not be written: ${error.message}`);
    process.exit(error.code === 'EPIPE' ? 0 : 1);
  });
  // Nobody hears what is said: go on, the result may still be read.
  process.stderr.on('error', () => {});
}

/** Waits until everything printed so far has left the process. */
export async function allWritten(): Promise<void> {
  for (const stream of [process.stdout, process.stderr])
    await new Promise<void>((resolve) => {
      stream.write('', () => resolve());
    });
}

/** Columns padded to their widest cell; the last is left ragged. `right` names columns of numbers. */
export function columns(rows: string[][], right: number[] = []): string[] {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((row) => (row[i] ?? '').length)));
  return rows.map((row) =>
    row
      .map((cell, i) => (right.includes(i) ? cell.padStart(widths[i] ?? 0) : cell.padEnd(widths[i] ?? 0)))
      .join('  ')
      .trimEnd(),
  );
}
