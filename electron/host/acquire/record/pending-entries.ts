import type { Mark } from '../../../../shared/model/capture.ts';
import type { Entry } from '../../store/append.ts';
import type { MeterLine } from '../meter/meter.ts';
import type { Kept } from './raw-backlog.ts';

/**
 * What waits to be stored. A line with `kept` is in the store already, unread, until the `read` behind it; a mark with it was made while
 * such lines were read, and has some before and behind it.
 */
export type PendingEntry =
  | { kind: 'line'; line: MeterLine; kept: Kept | undefined }
  | { kind: 'mark'; mark: Mark; kept: Kept | undefined }
  /** What the store keeps unread up to this row has become the lines before. */
  | { kind: 'read'; kept: Kept };

/**
 * Where a batch of at least `length` entries from `begin` on ends. The lines of what the store keeps unread go into the store in the
 * transaction that removes it there: else a kill between two would leave them in both.
 */
export function endOfBatch(waiting: readonly PendingEntry[], begin: number, length: number): number {
  let end = Math.min(waiting.length, begin + length);
  for (let last = waiting[end - 1]; last && last.kind !== 'read' && last.kept; last = waiting[end - 1]) end += 1;
  return Math.min(end, waiting.length);
}

/** Seconds since `zeroMs`, the monotonic time of elapsed 0. */
export const elapsedOf = (atMs: number, zeroMs: number): number => Math.max(0, (atMs - zeroMs) / 1000);

/**
 * As the store takes it into the capture `key`. What another capture keeps unread becomes lines of that one: whoever took it up reads
 * that before he goes on.
 */
export const toEntries = (items: readonly PendingEntry[], { key, zeroMs }: { key: number; zeroMs: number }): Entry[] =>
  items.flatMap((item): Entry[] => {
    if (item.kind === 'mark') return [{ kind: 'mark', mark: item.mark }];
    if (item.kept && item.kept.capture !== key) return [];
    if (item.kind === 'read') return [{ kind: 'read', row: item.kept.row }];
    const { meter, atMs, bytes, readings } = item.line;
    return [{ kind: 'line', elapsedS: elapsedOf(atMs, zeroMs), port: meter.port, bytes, readings }];
  });
