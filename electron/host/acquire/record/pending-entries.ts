import type { Mark } from '../../../../shared/model/capture.ts';
import type { Entry } from '../../store/append.ts';
import type { MeterLine } from '../meter/meter.ts';
import type { BacklogRow } from './raw-backlog.ts';

/**
 * An entry that has not been stored. A line with `backlogRow` is in the store already, as raw bytes, until the `backlog-read` behind it;
 * a mark with it was made while such lines were decoded, and has some before and behind it.
 */
export type PendingEntry =
  | { kind: 'line'; line: MeterLine; backlogRow: BacklogRow | undefined }
  | { kind: 'mark'; mark: Mark; backlogRow: BacklogRow | undefined }
  /** The raw bytes that the store holds up to this row have become the lines before. */
  | { kind: 'backlog-read'; backlogRow: BacklogRow };

/**
 * Where a batch of at least `length` entries from index `start` on ends. The lines of a backlog row go into the store in the
 * transaction that removes the row: a kill between two would leave them in both.
 */
export function endOfBatch(pending: readonly PendingEntry[], start: number, length: number): number {
  let end = Math.min(pending.length, start + length);
  for (let last = pending[end - 1]; last && last.kind !== 'backlog-read' && last.backlogRow; last = pending[end - 1])
    end += 1;
  return Math.min(end, pending.length);
}

/** Seconds since `zeroMs`, the monotonic time of elapsed 0; never negative. */
export const elapsedOf = (atMs: number, zeroMs: number): number => Math.max(0, (atMs - zeroMs) / 1000);

/**
 * As the store takes them into the capture `key`. A backlog row of another capture becomes lines of that one: whoever resumed it
 * decodes the row before recording anything else.
 */
export const toEntries = (items: readonly PendingEntry[], { key, zeroMs }: { key: number; zeroMs: number }): Entry[] =>
  items.flatMap((item): Entry[] => {
    if (item.kind === 'mark') return [{ kind: 'mark', mark: item.mark }];
    if (item.backlogRow && item.backlogRow.capture !== key) return [];
    if (item.kind === 'backlog-read') return [{ kind: 'backlog-read', row: item.backlogRow.row }];
    const { meter, atMs, bytes, readings } = item.line;
    return [{ kind: 'line', elapsedS: elapsedOf(atMs, zeroMs), port: meter.port, bytes, readings }];
  });
