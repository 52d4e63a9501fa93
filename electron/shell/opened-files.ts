import { dialog, type BrowserWindow } from 'electron';
import { readFileSync, statSync } from 'node:fs';
import { basename } from 'node:path';
import type { ImportedCapture } from '../../shared/contract/api.ts';
import { bytesFault } from '../../shared/files/limits.ts';
import { fault } from '../../shared/model/faults.ts';
import type { Outcome } from '../../shared/model/outcome.ts';
import { fail, ok } from '../../shared/model/outcome.ts';
import { reasonOf } from '../host/files/write-whole.ts';
import type { Host } from '../host/host.ts';
import type { NamedBytes } from '../host/jobs/jobs.ts';

/** The files among the arguments of a start: what the system passes for a double click. */
export const filesAmong = (args: readonly string[]): string[] =>
  args.filter((arg) => !arg.startsWith('-') && /\.(?:zip|csv)$/i.test(arg));

/** Files that were opened with the program, kept until there is a window that can say what became of them. */
export interface OpenedFiles {
  add(paths: readonly string[]): void;
  /** From now on `open` gets them, those before at once; one lot after the other. */
  deliver(open: (paths: readonly string[]) => Promise<void>): void;
}

export function createOpenedFiles(atStart: readonly string[]): OpenedFiles {
  let waiting = [...atStart];
  let opening: Promise<void> | undefined;
  let open: ((paths: readonly string[]) => Promise<void>) | undefined;
  const next = () => {
    if (!open || opening || waiting.length === 0) return;
    const paths = waiting;
    waiting = [];
    opening = open(paths).finally(() => {
      opening = undefined;
      next();
    });
  };
  return {
    add(paths) {
      waiting.push(...paths);
      next();
    },
    deliver(receiver) {
      open = receiver;
      next();
    },
  };
}

/** Imports the files that were opened with the program, and says what became of them. */
export async function importOpened(host: Host, window: BrowserWindow, paths: readonly string[]): Promise<void> {
  const sentences: string[] = [];
  let added = 0;
  for (const path of paths) {
    const files = readWithCompanions(path);
    const imported = files.ok
      ? await host.handlers['files.import']({ files: files.value }, new AbortController().signal)
      : files;
    if (!imported.ok) {
      sentences.push(imported.fault.message);
      continue;
    }
    const { captures, problems, foreign = [] } = imported.value;
    added += captures.filter((capture) => capture.added).length;
    sentences.push(...captures.flatMap((capture) => sentencesOf(path, capture)), ...problems.map((p) => p.message));
    sentences.push(...foreign.map(({ name }) => fault('file-foreign', { file: name }).message));
  }
  await dialog.showMessageBox(window, {
    type: added > 0 ? 'info' : 'warning',
    message: addedText(added),
    detail: sentences.join('\n'),
    buttons: ['OK'],
  });
}

function addedText(added: number): string {
  if (added === 0) return 'No capture was added.';
  return added === 1
    ? 'One capture was added. It is under Earlier.'
    : `${added} captures were added. They are under Earlier.`;
}

const sentencesOf = (path: string, { added, notices = [] }: ImportedCapture): string[] =>
  added ? notices : [`The capture in ${basename(path)} was in the store already.`, ...notices];

/** A file, and with a CSV its setup and trials. Only regular files: a device or a pipe would never end. */
function readWithCompanions(path: string): Outcome<NamedBytes[]> {
  const isCsv = /\.csv$/i.test(path);
  const companions = isCsv ? ['.setup.json', '.trials.csv'].map((end) => path.replace(/\.csv$/i, end)) : [];
  const files: NamedBytes[] = [];
  for (const name of [path, ...companions]) {
    try {
      const stats = statSync(name, { throwIfNoEntry: name === path });
      if (!stats) continue;
      if (!stats.isFile()) return fail(fault('file-unreadable', { file: name, reason: 'it is no regular file' }));
      const large = bytesFault(name, stats.size);
      if (large) return fail(large);
      files.push({ name: basename(name), bytes: readFileSync(name) });
    } catch (error) {
      return fail(fault('file-unreadable', { file: name, reason: reasonOf(error) }));
    }
  }
  return ok(files);
}
