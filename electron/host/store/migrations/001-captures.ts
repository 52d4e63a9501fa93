/** The first store: burners, the user's own profiles, and captures with all that belongs to them. */
export const sql = `
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
) STRICT;
CREATE INDEX capture_by_burner ON capture (burner_id);

CREATE TABLE meter (
  key         INTEGER PRIMARY KEY,
  capture     INTEGER NOT NULL REFERENCES capture (key),
  port        TEXT NOT NULL,
  profile     TEXT NOT NULL,
  description TEXT,
  UNIQUE (capture, port, profile)
) STRICT;

-- What came from the ports, byte for byte, without line ends. Never updated.
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
`;
