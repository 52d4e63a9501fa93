import { visibleText } from '../../shared/model/visible-text.ts';
import type { Outcome } from '../../shared/model/outcome.ts';

/** How a command ended: 0 done, 1 some input could not be used (the others were done), 2 the call itself was wrong. */
export type Status = 0 | 1 | 2;

/** Arguments that cannot be meant: printed as one sentence, exit status 2. */
export class CallError extends Error {
  override name = 'CallError';
}

/** Prints a result line: only results go to standard output. */
export const print = (line: string): void => {
  process.stdout.write(`${visibleText(line)}\n`);
};

/** Prints a line of anything else to standard error. */
export const printMessage = (line: string): void => {
  process.stderr.write(`${visibleText(line)}\n`);
};

/** A fault as it is printed: its sentence for people, its code for programs. */
export interface FaultText {
  code: string;
  message: string;
}

/** Prints the sentence of a fault to standard error. */
export const printFault = ({ message }: FaultText): void => printMessage(`pilot-bench: ${message}`);

/**
 * Prints a bug as one line, with its stack only when PILOT_BENCH_DEBUG is set.
 * @param where  " (name of the call)", or nothing
 */
export function printBug(where: string, error: unknown): void {
  printMessage(`pilot-bench: bug in Pilot Bench${where}: ${error instanceof Error ? error.message : String(error)}`);
  if (process.env['PILOT_BENCH_DEBUG'] && error instanceof Error) printMessage(error.stack ?? '');
}

/** Prints that `file` was written, or the fault; gives the exit status. */
export function reportWritten(written: Outcome<undefined>, file: string): Status {
  if (written.ok) printMessage(`Written: ${file}`);
  else printFault(written.fault);
  return written.ok ? 0 : 1;
}

/** Prints one line of JSON. JSON has no NaN or Infinity, and no result contains one. */
export const printJson = (value: unknown): void => print(JSON.stringify(value));

/** A fault for programs. */
export const faultJson = ({ code, message }: FaultText): FaultText => ({ code, message });

/**
 * Ends the program when the pipe of its output is closed (`| head -1`), which is not an error.
 * To be called once, before anything is printed.
 */
export function exitOnClosedPipe(): void {
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') printMessage(`pilot-bench: the result could not be written: ${error.message}`);
    process.exit(error.code === 'EPIPE' ? 0 : 1);
  });
  // Nobody reads the messages: continue, as the result may still be read.
  process.stderr.on('error', () => {});
}

/** Waits until everything printed so far has left the process. */
export async function flushOutput(): Promise<void> {
  for (const stream of [process.stdout, process.stderr])
    await new Promise<void>((resolve) => {
      stream.write('', () => resolve());
    });
}

/** Rows as lines, each column padded to its widest cell but for the last. `right`: indexes of right-aligned columns. */
export function columns(rows: string[][], right: number[] = []): string[] {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((row) => (row[i] ?? '').length)));
  return rows.map((row) =>
    row
      .map((cell, i) => (right.includes(i) ? cell.padStart(widths[i] ?? 0) : cell.padEnd(widths[i] ?? 0)))
      .join('  ')
      .trimEnd(),
  );
}
