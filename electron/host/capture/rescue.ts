import { dirname } from 'node:path';
import { writeDataPackage, writeZip } from '../../../shared/files/data-package.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail, ok, type Outcome } from '../../../shared/model/outcome.ts';
import type { Unit } from '../../../shared/model/reading.ts';
import { writeAtomically } from '../files/write-whole.ts';
import type { HostContext } from '../host-context.ts';
import type { Entry } from '../store/append.ts';
import { endCapture } from '../store/captures.ts';
import { findRow } from '../store/read/capture-rows.ts';
import { textOf } from '../store/read/raw-bytes.ts';
import { readCapture } from '../store/read/read-capture.ts';
import { ignoringStoreFaults, storeFault } from '../store/store-fault.ts';
import { rescuePlaces } from './rescue-places.ts';

/** What became of lines that the store refused. */
export interface Rescue {
  /** `lines-rescued`; or `lines-unsaved`, and they are still only in memory. */
  fault: Fault;
  saved: boolean;
}

/**
 * Saves what the store refuses in a file: the whole capture as a data package, with the pending lines. Importing it completes the
 * capture in the store. Undefined when nothing is pending and the store is still in its place.
 *
 * @param out  where the capture was to be exported; when that is no .zip or is refused too, the other places of `rescuePlaces` are tried
 */
export async function rescueLines(context: HostContext, out?: string): Promise<Rescue | undefined> {
  const { recorder, store } = context;
  const target = recorder.target();
  const pending = recorder.pending();
  const isGone = store.isGone();
  if (!target || (pending.length === 0 && !isGone)) return undefined;
  let lines = pending.filter(({ kind }) => kind === 'line').length;
  const unsaved = (reason: string): Rescue => ({
    fault: fault('lines-unsaved', { lines, capture: target.id, reason }),
    saved: false,
  });
  let stored: Capture | undefined;
  try {
    const row = findRow(store.db, target.id);
    if (typeof row === 'object') stored = readCapture(store.db, row);
  } catch (error) {
    const refusal = storeFault(error, store.file);
    if (!refusal) throw error;
    return unsaved(refusal.message.replace(/\.$/u, ''));
  }
  if (!stored) return unsaved('the store no longer holds this capture');
  if (isGone) lines += stored.lines.length;
  const whole: Capture = { ...withPending(stored, pending), interrupted: true };
  const zip = writeZip(writeDataPackage(whole));
  const places = rescuePlaces(target.id, dirname(store.file), out);
  const written = await writeToFirst(places, zip);
  if (!written.ok) return unsaved(written.fault.message.replace(/\.$/u, ''));
  recorder.discardPending();
  // When this is refused, the capture becomes interrupted the next time the store is opened.
  if (!isGone)
    ignoringStoreFaults(store.file, () => void endCapture(store.db, target.key, context.owner, 'interrupted'));
  return { fault: fault('lines-rescued', { lines, capture: target.id, file: written.value }), saved: true };
}

/** Writes the first of these files that the system takes, for this user's eyes only; gives it. Fails with the refusal of the first. */
async function writeToFirst(files: readonly string[], content: Uint8Array): Promise<Outcome<string>> {
  let refusal: Outcome<string> = fail(fault('internal', { what: 'no place for a file' }));
  for (const [i, file] of files.entries()) {
    const written = await writeAtomically(file, content, { isPrivate: true });
    if (written.ok) return ok(file);
    if (i === 0) refusal = written;
  }
  return refusal;
}

/** The capture as it would be if the store had taken the pending entries. */
function withPending(stored: Capture, pending: readonly Entry[]): Capture {
  const whole = { ...stored, lines: [...stored.lines], readings: [...stored.readings], marks: [...stored.marks] };
  let seq = stored.lines.at(-1)?.seq ?? 0;
  for (const entry of pending) {
    if (entry.kind === 'mark') {
      whole.marks.push(entry.mark);
      continue;
    }
    if (entry.kind === 'backlog-read') continue;
    seq += 1;
    const { elapsedS, port, readings } = entry;
    const text = textOf(entry.bytes);
    whole.lines.push({ seq, elapsedS, port, ...text });
    for (const reading of readings)
      whole.readings.push({ ...reading, unit: reading.unit as Unit, elapsedS, raw: text.raw, line: seq });
  }
  return whole;
}
