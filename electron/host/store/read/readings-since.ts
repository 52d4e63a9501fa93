import type { Database } from 'better-sqlite3';
import { flags, type Reading, roles, type Unit } from '../../../../shared/model/reading.ts';
import { unitsOf } from './capture-rows.ts';
import { readBatch } from './read-batch.ts';

/** Readings of meters that come late or in bursts are stored after newer ones of other meters, by this much at most, seconds. */
const disorderS = 5;

/** The stored readings of a capture from `fromS` (elapsed seconds) on, each role in the unit of its first channel. */
export function readingsSince(db: Database, key: number, fromS: number): Reading[] {
  // From the newest backwards: a few seconds of a long capture are found at once.
  const before = db
    .prepare<[number, number], number>(
      'SELECT n FROM reading WHERE capture = ? AND elapsed_s < ? ORDER BY n DESC LIMIT 1',
    )
    .pluck()
    .get(key, fromS - disorderS);
  const units = unitsOf(db, key);
  const readings: Reading[] = [];
  for (let batch = readBatch(db, key, before ?? 0); batch; batch = readBatch(db, key, batch.upTo)) {
    const { role, flag, elapsedS, value } = batch;
    for (let i = 0; i < role.length; i += 1) {
      const name = roles[role[i]!]!;
      if (elapsedS[i]! < fromS) continue;
      readings.push({
        role: name,
        unit: units[name] as Unit,
        elapsedS: elapsedS[i]!,
        value: value[i]!,
        ...(flag[i]! > 0 && { flag: flags[flag[i]! - 1]! }),
        raw: '',
      });
    }
  }
  return readings;
}
