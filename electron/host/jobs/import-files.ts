import { readDataPackage, readZip } from '../../../shared/files/data-package.ts';
import { bytesFault } from '../../../shared/files/limits.ts';
import { readWideCsv } from '../../../shared/files/wide-csv.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { Job, JobResults, NamedBytes } from './jobs.ts';
import { letOthersWrite, removeDeadArrivals } from '../store/import/incomplete-import.ts';
import { findBurner } from '../store/burners.ts';
import { differences } from '../store/import/differences.ts';
import { importCapture } from '../store/import/import-capture.ts';
import type { Store } from '../store/open.ts';

type ImportJob = Extract<Job, { kind: 'import' }>;

/** Reads the files and puts what they hold into the store; each file that cannot be used is one problem. */
export function importFiles(store: Store, job: ImportJob): Outcome<JobResults['import']> {
  if (job.burnerId !== undefined && !findBurner(store.db, job.burnerId)) return fail(fault('burner-missing'));
  // This thread may wait for the lock, others must not wait for it.
  store.db.pragma('busy_timeout = 5000');
  removeDeadArrivals(store.db, Date.now(), letOthersWrite);
  const captures: JobResults['import']['captures'] = [];
  const problems: Fault[] = [];
  const companions = new Set(companionNames(job.files));
  for (const file of job.files) {
    if (companions.has(file.name)) continue;
    const read = readCaptureFile(file, job.files);
    if (!read.ok) {
      problems.push(read.fault);
      continue;
    }
    const { capture, notices } = read.value;
    const added = importCapture(store.db, capture, job.burnerId, job.addedAt);
    const differs = added ? [] : differences(store.db, capture);
    if (differs.length > 0)
      notices.push(
        fault('capture-differs', { file: file.name, capture: capture.id, parts: differs.join(', ') }).message,
      );
    captures.push({
      id: capture.id,
      added,
      ...(differs.length > 0 && { differs }),
      ...(notices.length > 0 && { notices }),
    });
  }
  return ok({ captures, problems });
}

/** Setup and trials files that stand beside a CSV of their name. */
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
    return readDataPackage({ file: name, entries: entries.value });
  }
  const large = bytesFault(name, bytes.length);
  if (large) return fail(large);
  // Text holds no NUL bytes; what does is some other kind of file, whatever its name.
  if (!isCsv(name) || bytes.includes(0)) return fail(fault('file-kind-unknown', { file: name }));
  const beside = (wanted: string) => {
    const found = files.find((file) => file.name === wanted);
    return found && { file: wanted, text: new TextDecoder().decode(found.bytes) };
  };
  return readWideCsv({
    file: name,
    text: new TextDecoder().decode(bytes),
    setup: beside(setupName(name)),
    trials: beside(trialsName(name)),
  });
}
