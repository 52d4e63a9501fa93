import { randomUUID } from 'node:crypto';
import type { Database } from 'better-sqlite3';
import type { Burner } from '../../../shared/contract/api.ts';
import type { BurnerFacts } from '../../../shared/model/capture.ts';
import type { Setup } from '../../../shared/model/setup.ts';

interface BurnerRow {
  id: string;
  facts: string;
  setup: string;
}

const toBurner = (row: BurnerRow): Burner => ({
  id: row.id,
  ...(JSON.parse(row.facts) as BurnerFacts),
  setup: JSON.parse(row.setup) as Setup,
});

export const listBurners = (db: Database): Burner[] =>
  db
    .prepare<[], BurnerRow>('SELECT * FROM burner')
    .all()
    .map(toBurner)
    .sort((a, b) => `${a.site} ${a.name}`.localeCompare(`${b.site} ${b.name}`));

export function findBurner(db: Database, id: string): Burner | undefined {
  const row = db.prepare<[string], BurnerRow>('SELECT * FROM burner WHERE id = ?').get(id);
  return row && toBurner(row);
}

export const factsOf = ({ id: _id, setup: _setup, ...facts }: Burner): BurnerFacts => facts;

/** Saves a burner; one of the same id is replaced. */
export function putBurner(db: Database, { id, setup, ...facts }: Burner): void {
  db.prepare(
    `INSERT INTO burner (id, facts, setup) VALUES (?, ?, ?)
     ON CONFLICT (id) DO UPDATE SET facts = excluded.facts, setup = excluded.setup`,
  ).run(id, JSON.stringify(facts), JSON.stringify(setup));
}

/** The id of the burner with the same site, name and serial number; it is added, with `setup`, when there is none. */
export function findOrAddBurner(db: Database, facts: BurnerFacts, setup: Setup): string {
  // By the index of that name (migration 008).
  const same = db
    .prepare<[string], BurnerRow>(
      `SELECT * FROM burner WHERE CASE WHEN json_valid(facts) THEN facts ->> '$.name' END = ?`,
    )
    .all(facts.name)
    .map(toBurner)
    .find((burner) => burner.site === facts.site && burner.serialNumber === facts.serialNumber);
  if (same) return same.id;
  const id = randomUUID();
  // The as-left pressure belongs to the visit, not to the burner.
  const { asLeftPressure: _asLeft, ...requirements } = setup;
  putBurner(db, { id, ...facts, setup: requirements });
  return id;
}
