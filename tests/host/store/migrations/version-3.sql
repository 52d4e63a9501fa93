-- A store as version 3 of the schema left it, with data in it: made once, never changed. Its schema is what SQLite itself lists.

CREATE TABLE burner (
  id    TEXT PRIMARY KEY,
  facts TEXT NOT NULL,             -- JSON, BurnerFacts
  setup TEXT NOT NULL              -- JSON, Setup: what the next capture at this burner begins with
) STRICT;

CREATE TABLE profile (
  name TEXT PRIMARY KEY,
  json TEXT NOT NULL
) STRICT;

CREATE TABLE capture (
  key        INTEGER PRIMARY KEY,
  id         TEXT NOT NULL UNIQUE,
  started_at TEXT,                 -- ISO 8601 with offset, wall time of elapsed 0; NULL when an imported file did not say
  added_at   TEXT NOT NULL,        -- ISO 8601, when it came into this store
  status     TEXT NOT NULL CHECK (status IN ('recording', 'complete', 'interrupted')),
  technician TEXT,
  burner_id  TEXT REFERENCES burner (id),
  burner     TEXT,                 -- JSON, BurnerFacts as they were at the visit
  setup      TEXT NOT NULL,        -- JSON, Setup
  -- Kept in the transaction of each batch, so that lists need not count a million rows.
  lines      INTEGER NOT NULL DEFAULT 0,
  readings   INTEGER NOT NULL DEFAULT 0,
  duration_s REAL NOT NULL DEFAULT 0,
  -- Who is recording: see owner.ts. All NULL unless status is 'recording'.
  owner_pid     INTEGER,
  owner_process TEXT,              -- tells this process from a later one with the same pid
  owner_host    TEXT,              -- tells two hosts in one process apart
  heartbeat_ms  INTEGER            -- wall time
, arriving INTEGER NOT NULL DEFAULT 0 CHECK (arriving IN (0, 1))) STRICT;

CREATE INDEX capture_by_burner ON capture (burner_id);

CREATE TABLE line (
  capture   INTEGER NOT NULL REFERENCES capture (key),
  seq       INTEGER NOT NULL,
  elapsed_s REAL NOT NULL,
  port      TEXT NOT NULL,
  raw       BLOB NOT NULL,
  PRIMARY KEY (capture, seq)
) STRICT, WITHOUT ROWID;

CREATE TABLE channel (
  key     INTEGER PRIMARY KEY,
  capture INTEGER NOT NULL REFERENCES capture (key),
  role    TEXT NOT NULL,
  unit    TEXT NOT NULL,
  UNIQUE (capture, role, unit)
) STRICT;

CREATE TABLE reading (
  capture   INTEGER NOT NULL REFERENCES capture (key),
  n         INTEGER NOT NULL,      -- from 1 in each capture, without holes, in the order of storing
  channel   INTEGER NOT NULL REFERENCES channel (key),
  elapsed_s REAL NOT NULL,
  value     REAL,                  -- NULL exactly when flag is set
  flag      TEXT,
  line      INTEGER,               -- seq of its raw line
  raw       TEXT,                  -- its text when it has no raw line (a cell of a CSV)
  PRIMARY KEY (capture, n),
  CHECK ((value IS NULL) = (flag IS NOT NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE mark (
  key       INTEGER PRIMARY KEY,
  capture   INTEGER NOT NULL REFERENCES capture (key),
  elapsed_s REAL NOT NULL,
  kind      TEXT NOT NULL,
  text      TEXT NOT NULL
) STRICT;

CREATE INDEX mark_by_capture ON mark (capture, elapsed_s);

CREATE TABLE trial (
  id              INTEGER PRIMARY KEY,
  capture         INTEGER NOT NULL REFERENCES capture (key),
  pressure        REAL NOT NULL,
  unit            TEXT NOT NULL,
  spark_delay_s   REAL NOT NULL,
  lit             INTEGER NOT NULL CHECK (lit IN (0, 1)),
  time_to_prove_s REAL,
  elapsed_s       REAL
) STRICT;

CREATE INDEX trial_by_capture ON trial (capture);

CREATE TABLE note (
  key     INTEGER PRIMARY KEY,
  capture INTEGER NOT NULL REFERENCES capture (key),
  at      TEXT NOT NULL,           -- ISO 8601
  by      TEXT,
  text    TEXT NOT NULL
) STRICT;

CREATE INDEX note_by_capture ON note (capture);

CREATE TABLE "meter" (
  key         INTEGER PRIMARY KEY,
  capture     INTEGER NOT NULL REFERENCES capture (key),
  port        TEXT NOT NULL,
  profile     TEXT NOT NULL,
  description TEXT,
  reads       TEXT                 -- JSON, the profile as it was then; NULL when it is not known
) STRICT;

CREATE UNIQUE INDEX meter_once ON meter (capture, port, profile, ifnull(reads, ''));

INSERT INTO burner VALUES
  ('burner-1', '{"site":"North mill","name":"Boiler 2","serialNumber":"A-77"}', '{"minimumSignal":{"value":1.25,"unit":"V"},"purgeSeconds":90}');

INSERT INTO profile VALUES
  ('My gauge', '{"name":"My gauge","serial":{"baudRate":19200,"dataBits":8,"parity":"none","stopBits":1},"mode":"stream","line":{"format":"number"},"channels":[{"role":"pilot_pressure","unit":"mbar","scale":0.5,"offset":0}],"overload":["OL"]}');

-- A complete visit; one imported from a CSV, which has no raw lines; one whose recording process was killed; and an import that was
-- killed, of which only the row itself is there.
INSERT INTO capture (key, id, started_at, added_at, status, technician, burner_id, burner, setup, lines, readings, duration_s, owner_pid, owner_process, owner_host, heartbeat_ms, arriving) VALUES
  (1, 'visit-2025', '2025-11-24T09:44:26.120+01:00', '2025-11-24T09:44:26.120+01:00', 'complete', 'R. Odegaard', 'burner-1', '{"site":"North mill","name":"Boiler 2"}', '{"asLeftPressure":{"value":2.4,"unit":"inH2O"},"seed":7}', 3, 3, 75.5, NULL, NULL, NULL, NULL, 0),
  (2, 'csv-import', NULL, '2025-11-25T10:00:00Z', 'complete', NULL, NULL, NULL, '{}', 0, 2, 0.5, NULL, NULL, NULL, NULL, 0),
  (5, 'killed', '2025-12-01T08:00:00.000+01:00', '2025-12-01T08:00:00.000+01:00', 'recording', NULL, NULL, NULL, '{}', 1, 1, 3.25, 4194305, 'boot-1 4711', 'host-1', 1764572403250, 0),
  (6, 'arriving 6f1c', NULL, '2025-12-02T10:00:00Z', 'interrupted', NULL, NULL, NULL, '{}', 0, 0, 0, 4194306, 'boot-1 4712', 'host-2', 1764668400000, 1);

INSERT INTO line VALUES
  (1, 1, 0.125, '/dev/ttyUSB0', CAST('2.41 inH2O' AS BLOB)),
  (1, 2, 0.25, '/dev/ttyUSB1', CAST('4.60' AS BLOB)),
  (1, 3, 0.5, '/dev/ttyUSB0', CAST('OL' AS BLOB)),
  (5, 1, 3.25, 'COM3', X'FF00C328');

INSERT INTO channel VALUES
  (1, 1, 'pilot_pressure', 'inH2O'),
  (2, 1, 'flame_signal', 'V'),
  (3, 2, 'flame_signal', 'mV'),
  (4, 5, 'pilot_pressure', 'Pa');

INSERT INTO reading VALUES
  (1, 1, 1, 0.125, 2.41, NULL, 1, NULL),
  (1, 2, 2, 0.25, 4.6, NULL, 2, NULL),
  (1, 3, 1, 0.5, NULL, 'overload', 3, NULL),
  (2, 1, 3, 0.0, 4600.5, NULL, NULL, '4600,5'),
  (2, 2, 3, 0.5, NULL, 'unreadable', NULL, 'Err'),
  (5, 1, 4, 3.25, NULL, 'unreadable', 1, NULL);

INSERT INTO mark VALUES
  (1, 1, 60.0, 'trial-start', '2.40 inH2O, spark held back 5 s'),
  (2, 1, 68.0, 'trial-end', 'lit'),
  (3, 1, 1.0, 'note', 'two
lines, "quoted"; it''s µA'),
  (4, 1, 75.5, 'as-left', '2.40 inH2O, 4.60 V');

INSERT INTO trial VALUES
  (1, 1, 2.4, 'inH2O', 5.0, 1, 6.5, 60.0),
  (2, 1, 600.0, 'Pa', 0.0, 0, NULL, NULL);

INSERT INTO note VALUES
  (1, 1, '2025-11-24T11:00:00+01:00', 'R. Odegaard', 'electrode replaced'),
  (2, 2, '2025-11-25T10:05:00Z', NULL, 'from the logger');

-- COM3 was read by two profiles of one name.
INSERT INTO meter VALUES
  (1, 1, '/dev/ttyUSB0', 'Manometer, one number a line', 'the blue one', NULL),
  (2, 1, '/dev/ttyUSB1', 'Multimeter, volts, one number a line', NULL, '{"name":"Multimeter, volts, one number a line","line":{"format":"number"}}'),
  (7, 5, 'COM3', 'My gauge', NULL, '{"name":"My gauge","line":{"format":"number"}}'),
  (8, 5, 'COM3', 'My gauge', NULL, '{"name":"My gauge","line":{"format":"scpi"}}');

PRAGMA application_id = 1346532212;
PRAGMA user_version = 3;
