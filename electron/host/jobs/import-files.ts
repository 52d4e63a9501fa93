import { readDataPackage, readZip } from '../../../shared/files/data-package.ts';
import { companionName } from '../../../shared/files/companion-name.ts';
import { bytesFault } from '../../../shared/files/limits.ts';
import { decodeText } from '../../../shared/files/logger/decode-text.ts';
import { readLoggerFile, type TakenAs } from '../../../shared/files/logger/read-logger-file.ts';
import { isWideCsv, readWideCsv } from '../../../shared/files/wide-csv.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { cellsIn, memoryFault, rowsIn } from '../files/memory-limit.ts';
import { localOffsetMin } from '../clock.ts';
import { findBurner } from '../store/burners.ts';
import { differences } from '../store/import/differences.ts';
import { importCapture } from '../store/import/import-capture.ts';
import { chunkCount, removeAbandonedImports, yieldWriteLock } from '../store/import/incomplete-import.ts';
import { putMapping } from '../store/mappings.ts';
import { findExactRow } from '../store/read/capture-rows.ts';
import type { Store } from '../store/open.ts';
import type { ForeignFile, ImportedFile, Job, JobProgress, JobResults, NamedBytes } from './jobs.ts';

type ImportJob = Extract<Job, { kind: 'import' }>;

/**
 * Imports the captures of files into the store; each file that cannot be used is one problem. Text files of other loggers without a mapping
 * are in `foreign`, with what keeps them from being read as ours; the mapping of one that was read is remembered by its heading. Fails with `burner-missing`.
 */
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
  const foreign: ForeignFile[] = [];
  const problems: Fault[] = [];
  const companions = new Set(companionNames(job.files));
  for (const file of job.files) {
    if (companions.has(file.name)) continue;
    onProgress({ file: file.name });
    const read = readCaptureFile(file, job.files);
    if ('foreign' in read) {
      foreign.push({ name: file.name, fault: read.foreign });
      continue;
    }
    if (!read.ok) {
      problems.push(read.fault);
      continue;
    }
    const { notices, logger } = read.value;
    const capture = asStored(store, read.value);
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
    if (logger?.heading !== undefined) putMapping(store.db, logger.heading, logger.settled, job.addedAt);
    captures.push({
      id: capture.id,
      added,
      ...(differs.length > 0 && { differs }),
      ...(notices.length > 0 && { notices }),
      ...(logger && { ...(capture.startedAt !== undefined && { startedAt: capture.startedAt }), taken: logger.taken }),
    });
  }
  return ok({ captures, ...(foreign.length > 0 && { foreign }), problems });
}

/** The capture by the id that the store knows it by: one of a logger's file may have been imported when ids were made otherwise. */
const asStored = ({ db }: Store, { capture, logger }: { capture: Capture; logger?: TakenAs }): Capture =>
  logger && !findExactRow(db, capture.id) && findExactRow(db, logger.formerId)
    ? { ...capture, id: logger.formerId }
    : capture;

/** The setup and trials files that belong to a text file of the same name. */
const companionNames = (files: NamedBytes[]): string[] =>
  files
    .filter(({ name }) => !isCompanion(name))
    .flatMap(({ name }) => [companionName(name, '.setup.json'), companionName(name, '.trials.csv')]);

const isCompanion = (name: string): boolean => /\.(?:setup\.json|trials\.csv)$/iu.test(name);

/** `file-too-large` for a text file that has too many bytes, or more cells than fit into the memory. */
export const textFault = ({ name, bytes }: NamedBytes): Fault | undefined =>
  bytesFault(name, bytes.length) ?? memoryFault(name, cellsIn(bytes));

type ReadFile = Outcome<{ capture: Capture; notices: string[]; logger?: TakenAs }>;

/** The capture in a file; `foreign` where it is a text of another logger and there is no mapping for it. */
function readCaptureFile(file: ImportedFile, files: NamedBytes[]): ReadFile | { foreign: Fault } {
  const { name, bytes, mapping } = file;
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b; // "PK"
  if (isZip) {
    const entries = readZip(bytes, name);
    if (!entries.ok) return entries;
    const many = memoryFault(name, rowsIn(entries.value));
    return many ? fail(many) : readDataPackage({ file: name, entries: entries.value });
  }
  const large = textFault(file);
  if (large) return fail(large);
  const companion = (suffix: '.setup.json' | '.trials.csv') => {
    const own = companionName(name, suffix);
    const found = files.find((one) => one.name === own);
    return found && { file: own, text: new TextDecoder().decode(found.bytes) };
  };
  const beside = { file: name, setup: companion('.setup.json'), trials: companion('.trials.csv') };
  if (mapping) return readLoggerFile({ ...beside, bytes, mapping, offsetAt: localOffsetMin });
  // Text has no NUL bytes, except in UTF-16.
  const own = isCsv(name) && !bytes.includes(0) && readWideCsv({ ...beside, text: new TextDecoder().decode(bytes) });
  if (own && (own.ok || own.fault.code !== 'csv-no-elapsed')) return own;
  const notOurs = own ? own.fault : fault('file-kind-unknown', { file: name });
  const decoded = decodeText(name, bytes);
  if (!decoded.ok || isCompanion(name) || /\.json$/iu.test(name)) return fail(notOurs);
  const { text } = decoded.value;
  return isWideCsv(text) ? readWideCsv({ ...beside, text }) : { foreign: notOurs };
}

const isCsv = (name: string): boolean => /\.csv$/iu.test(name);
