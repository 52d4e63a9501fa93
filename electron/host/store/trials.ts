import type { Database } from 'better-sqlite3';
import type { StoredTrial } from '../../../shared/contract/api.ts';
import type { Trial } from '../../../shared/model/capture.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';

/** The columns of the table `trial` that may be NULL, with the keys of `Trial` that they hold. */
const optionalColumns = {
  spark_delay_s: 'sparkDelayS',
  time_to_prove_s: 'timeToProveS',
  time_to_prove_from_spark_s: 'timeToProveFromSparkS',
  elapsed_s: 'elapsedS',
  known_by: 'knownBy',
  status: 'status',
  corrects: 'corrects',
  reason: 'reason',
  purge_s: 'purgeS',
  purge_by: 'purgeBy',
  pressure_before: 'pressureBefore',
  pressure_after: 'pressureAfter',
  note: 'note',
} as const satisfies Record<string, keyof Trial>;
const columns = Object.keys(optionalColumns);
const keys = Object.values(optionalColumns);

interface TrialRow extends Record<string, number | string | null> {
  id: number;
  pressure: number;
  unit: string;
  lit: number;
}

/** Adds an entry to the record of trials of a capture, after those that are there; gives its id. */
export function addTrial(db: Database, key: number, trial: Trial): number {
  const marks = columns.map(() => '?').join(', ');
  const { lastInsertRowid } = db
    .prepare(
      `INSERT INTO trial (capture, pressure, unit, lit, ${columns.join(', ')})
       VALUES (?, ?, ?, ?, ${marks})`,
    )
    .run(key, trial.pressure, trial.unit, trial.lit ? 1 : 0, ...keys.map((name) => trial[name] ?? null));
  return Number(lastInsertRowid);
}

/** The whole record of trials of a capture in the order of its entries, those that were corrected or discarded among them. */
export const trialsOf = (db: Database, key: number): StoredTrial[] =>
  db
    .prepare<[number], TrialRow>('SELECT * FROM trial WHERE capture = ? ORDER BY id')
    .all(key)
    .map((row) => ({
      id: row.id,
      pressure: row.pressure,
      unit: row.unit as PressureUnit,
      lit: row.lit === 1,
      ...(Object.fromEntries(
        Object.entries(optionalColumns).flatMap(([column, name]) =>
          row[column] === null ? [] : [[name, row[column]]],
        ),
      ) as Partial<Trial>),
    }));

/** A trial as text, for comparison. */
export const trialText = (trial: Trial): string =>
  JSON.stringify([trial.pressure, trial.unit, trial.lit, ...keys.map((name) => trial[name])]);
