import { isTurned } from '../../../shared/burner-state/permissions.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Mark } from '../../../shared/model/capture.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { isSweeping, trialSpansOf } from '../../../shared/model/sweeps.ts';
import type { HostContext } from '../host-context.ts';
import type { CaptureRow } from '../store/read/capture-rows.ts';
import { findRow, marksOf } from '../store/read/capture-rows.ts';
import { recoverOrphans } from './orphans.ts';

/** Finds a capture by its id or an unambiguous beginning of it. Fails with `capture-missing` or `capture-ambiguous`. */
export function captureRow({ store, owner, clock }: HostContext, id: string): Outcome<CaptureRow> {
  recoverOrphans(store.db, owner, clock.wallMs());
  const row = findRow(store.db, id);
  if (row === 'missing') return fail(fault('capture-missing', { capture: id }));
  if (row === 'ambiguous') return fail(fault('capture-ambiguous', { capture: id }));
  return ok(row);
}

/** The capture, when it may still be changed. Fails as `captureRow` does, or with `capture-closed`. */
export function openRow(context: HostContext, id: string): Outcome<CaptureRow> {
  const found = captureRow(context, id);
  return found.ok && found.value.status === 'complete' ? fail(fault('capture-closed')) : found;
}

/**
 * The capture, when this host is recording it. Fails as `openRow` does, with `not-recording`, or with `capture-elsewhere` when another
 * program has taken it over and the recorder has not noticed yet.
 */
export function recordedRow(context: HostContext, id: string): Outcome<CaptureRow> {
  const found = openRow(context, id);
  if (found.ok && context.recorder.target()?.key !== found.value.key) return fail(fault('not-recording'));
  if (found.ok && found.value.status === 'recording' && found.value.owner_host !== context.owner.host)
    return fail(fault('capture-elsewhere'));
  return found;
}

/**
 * All marks of a capture: those in the store and, of the one that is recorded here, those that the store has not taken yet. A rule that
 * protects people must not forget the end of a trial because the disk is full.
 *
 * @param stored  those in the store, when the caller has read them already
 */
export function currentMarks(
  { store, recorder }: HostContext,
  key: number,
  stored: Mark[] = marksOf(store.db, key),
): Mark[] {
  return recorder.target()?.key === key ? [...stored, ...recorder.pendingMarks()] : stored;
}

/** Whether the regulator was turned since the capture began, as far as its marks (`currentMarks`) and the meters show. */
export const isRegulatorTurned = (
  context: HostContext,
  key: number,
  marks: readonly Mark[] = currentMarks(context, key),
): boolean => isTurned(marks) || context.burnerHistory.isTurned(key);

/** The marks that close a trial and a sweep that are still open at `elapsedS` (seconds); `reason` is their text. */
export function closingMarks(context: HostContext, key: number, elapsedS: number, reason: string): Mark[] {
  const marks = currentMarks(context, key);
  const closing: Mark[] = [];
  if (trialSpansOf(marks).at(-1)?.toS === Infinity) closing.push({ elapsedS, kind: 'trial-end', text: reason });
  if (isSweeping(marks)) closing.push({ elapsedS, kind: 'sweep-end', text: reason });
  return closing;
}
