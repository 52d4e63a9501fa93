import type { Database } from 'better-sqlite3';
import type { StoredTrial } from '../../../shared/contract/api.ts';
import type { Trial } from '../../../shared/model/capture.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail, ok, type Outcome } from '../../../shared/model/outcome.ts';
import { replacedBy } from '../../../shared/model/trials/valid-trials.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';
import type { Owner } from './owner.ts';

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

/** Whether `owner` records this capture still; to be asked in the transaction that writes. */
function isOurs(db: Database, key: number, owner: Owner): boolean {
  const row = db
    .prepare<[number], { status: string; owner_host: string | null }>(
      'SELECT status, owner_host FROM capture WHERE key = ?',
    )
    .get(key);
  // One that was only called interrupted is taken back by the next batch.
  return row !== undefined && (row.owner_host === owner.host || row.status === 'interrupted');
}

/**
 * Adds an entry to the capture that `owner` records; gives its id. Undefined when another program has taken the capture over, which is
 * seen in the same transaction.
 */
export const addOwnTrial = (db: Database, key: number, owner: Owner, trial: Trial): number | undefined =>
  db.transaction(() => (isOurs(db, key, owner) ? addTrial(db, key, trial) : undefined)).immediate();

/** A pressure in the unit of the trial that it belongs to. */
export interface PressureAfterTrial {
  value: number;
  unit: PressureUnit;
}

/**
 * Adds the pressure after a trial to the entry `id` and to those that have corrected it since; one that is there already stays, and nothing
 * is added to a capture that another program has taken over.
 */
export function addPressureAfter(
  db: Database,
  key: number,
  owner: Owner,
  id: number,
  { value, unit }: PressureAfterTrial,
): void {
  const fill = db.prepare('UPDATE trial SET pressure_after = ? WHERE id = ? AND unit = ? AND pressure_after IS NULL');
  const run = db.transaction(() => {
    if (!isOurs(db, key, owner)) return;
    const entries = trialsOf(db, key);
    const next = replacedBy(entries);
    for (let at = entries.findIndex((entry) => entry.id === id); at >= 0; at = (next[at] ?? 0) - 1)
      fill.run(value, entries[at]!.id, unit);
  });
  run.immediate();
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

/** Facts of a trial that are changed; null: it is not known after all. */
export type TrialChanges = {
  [K in keyof Omit<Trial, 'status' | 'corrects' | 'reason' | 'knownBy'>]?:
    Trial[K] | (undefined extends Trial[K] ? null : never) | undefined;
};

/**
 * Adds an entry that corrects the entry `id`, which stays as it is; gives the id of the new one.
 * Fails with `trial-unknown` or `trial-replaced`.
 */
export const correctTrial = (
  db: Database,
  key: number,
  id: number,
  { changes, reason }: { changes: TrialChanges; reason: string },
): Outcome<number> =>
  addAbout(db, key, id, ({ status: _status, timeToProveS, timeToProveFromSparkS, ...facts }) => {
    const isLit = changes.lit !== false;
    const fromSparkStays = isLit && changes.sparkDelayS === undefined && changes.timeToProveS === undefined;
    const corrected = {
      ...facts,
      ...(isLit && { timeToProveS }),
      ...(fromSparkStays && { timeToProveFromSparkS }),
      ...defined(changes),
    };
    // A fact that is null is not known anymore.
    const known = Object.entries(corrected).filter(([, value]) => value !== null && value !== undefined);
    return ok({ ...(Object.fromEntries(known) as unknown as Trial), knownBy: 'corrected', reason });
  });

/** The same for the capture that `owner` records; nothing is added to one that another program has taken over, or to a trial that was corrected since. */
export const correctOwnTrial = (
  db: Database,
  key: number,
  owner: Owner,
  id: number,
  correction: Parameters<typeof correctTrial>[3],
): void => {
  db.transaction(() => isOurs(db, key, owner) && correctTrial(db, key, id, correction)).immediate();
};

/** Adds an entry that discards the entry `id`; gives the id of the new one. Fails as `correctTrial` does, or with `trial-void`. */
export const voidTrial = (db: Database, key: number, id: number, reason: string): Outcome<number> =>
  addAbout(db, key, id, (trial) =>
    trial.status === 'void' ? fail(fault('trial-void')) : ok({ ...trial, status: 'void', reason }),
  );

/** Adds what `next` makes of the entry `id`, as an entry that names it. In one transaction: two windows may do it at once. */
function addAbout(db: Database, key: number, id: number, next: (trial: Trial) => Outcome<Trial>): Outcome<number> {
  const run = db.transaction((): Outcome<number> => {
    const entries = trialsOf(db, key);
    const index = entries.findIndex((entry) => entry.id === id);
    if (index < 0) return fail(fault('trial-unknown'));
    if (replacedBy(entries)[index] !== undefined) return fail(fault('trial-replaced'));
    const { id: _id, ...trial } = entries[index]!;
    const made = next(trial);
    return made.ok ? ok(addTrial(db, key, { ...made.value, corrects: index + 1 })) : made;
  });
  return run.immediate();
}

/** Without the keys that are undefined. */
const defined = <T extends object>(value: T): Partial<T> =>
  Object.fromEntries(Object.entries(value).filter(([, each]) => each !== undefined)) as Partial<T>;
