/**
 * Trials become a record that is only added to: an entry may correct or discard an earlier one. A trial may have a spark of which nobody
 * knows when it came; SQLite cannot take NOT NULL off a column, so the table is made anew.
 */
export const sql = `
CREATE TABLE trial_new (
  id              INTEGER PRIMARY KEY,
  capture         INTEGER NOT NULL REFERENCES capture (key),
  pressure        REAL NOT NULL,
  unit            TEXT NOT NULL,
  spark_delay_s   REAL,              -- NULL: nobody knows when the spark came
  lit             INTEGER NOT NULL CHECK (lit IN (0, 1)),
  time_to_prove_s REAL,              -- from the gas
  elapsed_s       REAL,
  time_to_prove_from_spark_s REAL,
  known_by        TEXT,              -- meters, hand, corrected
  status          TEXT CHECK (status IN ('valid', 'void')), -- NULL: valid
  corrects        INTEGER,           -- place of an earlier trial among those of its capture by id, from 1
  reason          TEXT,
  purge_s         REAL,
  purge_by        TEXT,              -- control, hand, air, confirmed
  pressure_before REAL,              -- in unit, as pressure
  pressure_after  REAL,
  note            TEXT
) STRICT;
INSERT INTO trial_new (id, capture, pressure, unit, spark_delay_s, lit, time_to_prove_s, elapsed_s)
  SELECT id, capture, pressure, unit, spark_delay_s, lit, time_to_prove_s, elapsed_s FROM trial;
DROP TABLE trial;
ALTER TABLE trial_new RENAME TO trial;
CREATE INDEX trial_by_capture ON trial (capture);
`;
