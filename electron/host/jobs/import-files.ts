import { readDataPackage, readZip } from '../../../shared/files/data-package.ts';
import { bytesFault } from '../../../shared/files/limits.ts';
import { readWideCsv } from '../../../shared/files/wide-csv.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { cellsIn, memoryFault, rowsIn } from '../files/memory-limit.ts';
import { findBurner } from '../store/burners.ts';
import { differences } from '../store/import/differences.ts';
import { importCapture } from '../store/import/import-capture.ts';
import { chunkCount, removeAbandonedImports, yieldWriteLock } from '../store/import/incomplete-import.ts';
import type { Store } from '../store/open.ts';
import type { Job, JobProgress, JobResults, NamedBytes } from './jobs.ts';

type ImportJob = Extract<Job, { kind: 'import' }>;

/** Imports the captures of files into the store; each file that cannot be used is one problem. Fails with `burner-missing`. */
export function importFiles(
  store: Store,
  job: ImportJob,
  onProgress: (progress: JobProgress) => void,
): Outcome<JobResults['import']> {
  if (job.burnerId !== undefined && !findBurner(store.db, job.burnerId)) return fail(fault('burner-missing'));
  // This process may wait for the write lock, but must not make others wait.
  store.db.pragma('busy_timeout = 5000');
  removeAbandonedImports(store.db, Date.now(), yieldWriteLock);
  const captures: JobResults['import']['captures'] = [];
  const problems: Fault[] = [];
  const companions = new Set(companionNames(job.files));
  for (const file of job.files) {
    if (companions.has(file.name)) continue;
    onProgress({ file: file.name });
    const read = readCaptureFile(file, job.files);
    if (!read.ok) {
      problems.push(read.fault);
      continue;
    }
    const { capture, notices } = read.value;
    const chunks = chunkCount(capture.lines.length) + chunkCount(capture.readings.length);
    let done = 0;
    const added = importCapture(store.db, capture, job.burnerId, job.addedAt, () => {
      done += 1;
      onProgress({ file: file.name, part: Math.min(1, done / chunks) });
      yieldWriteLock();
    });
    const differs = added ? [] : differences(store.db, capture);
    const parts = differs.map((part) => (part === 'practice' ? 'practice mark' : part)).join(', ');
    if (differs.length > 0)
      notices.push(fault('capture-differs', { file: file.name, capture: capture.id, parts }).message);
    captures.push({
      id: capture.id,
      added,
      ...(differs.length > 0 && { differs }),
      ...(notices.length > 0 && { notices }),
    });
  }
  return ok({ captures, problems });
}

/** The setup and trials files that belong to a CSV of the same name. */
const companionNames = (files: NamedBytes[]): string[] =>
  files.filter(({ name }) => isCsv(name)).flatMap(({ name }) => [setupName(name), trialsName(name)]);

const isCsv = (name: string): boolean => /\.csv$/i.test(name);
const setupName = (csv: string): string => csv.replace(/\.csv$/i, '.setup.json');
const trialsName = (csv: string): string => csv.replace(/\.csv$/i, '.trials.csv');

function readCaptureFile(
  { name, bytes }: NamedBytes,
  files: NamedBytes[],
): Outcome<{ capture: Capture; notices: string[] }> {
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b; // "PK"
  if (isZip) {
    const entries = readZip(bytes, name);
    if (!entries.ok) return entries;
    const many = memoryFault(name, rowsIn(entries.value));
    return many ? fail(many) : readDataPackage({ file: name, entries: entries.value });
  }
  const large = bytesFault(name, bytes.length) ?? memoryFault(name, cellsIn(bytes));
  if (large) return fail(large);
  // Text has no NUL bytes: a file with some is of another kind, whatever its name.
  if (!isCsv(name) || bytes.includes(0)) return fail(fault('file-kind-unknown', { file: name }));
  const companion = (companionName: string) => {
    const found = files.find((file) => file.name === companionName);
    return found && { file: companionName, text: new TextDecoder().decode(found.bytes) };
  };
  return readWideCsv({
    file: name,
    text: new TextDecoder().decode(bytes),
    setup: companion(setupName(name)),
    trials: companion(trialsName(name)),
  });
}
