-- A store of version 4, as Pilot Bench 0.1.0 wrote it before a capture had the column "practice". Frozen: never made anew.
-- Capture 1 was recorded on the practice bench, capture 2 on two serial ports.
PRAGMA application_id = 1346532212;
PRAGMA user_version = 4;
PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE burner (
  id    TEXT PRIMARY KEY,
  facts TEXT NOT NULL,             -- JSON, BurnerFacts
  setup TEXT NOT NULL              -- JSON, Setup: what the next capture at this burner begins with
) STRICT;
INSERT INTO burner VALUES('452692be-1a76-42be-923f-3bb481c371fa','{"site":"Harbour Cold Store","name":"Invented burner"}','{"minimumSignal":{"value":1.25,"unit":"V"}}');
INSERT INTO burner VALUES('c84366a8-8707-486a-ab1f-77bfcbb19e67','{"site":"North mill","name":"Boiler \"2\""}','{"minimumSignal":{"value":1.25,"unit":"V"}}');
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
INSERT INTO capture VALUES(1,'462ba3b3-3518-431b-abf7-22e80b5c3a48','2026-11-27T00:59:24.043+00:00','2026-11-27T00:59:24.043+00:00','complete','Practice','452692be-1a76-42be-923f-3bb481c371fa','{"site":"Harbour Cold Store","name":"Invented burner"}','{"minimumSignal":{"value":1.25,"unit":"V"},"seed":7}',9,9,0.8056786679999998757,NULL,NULL,NULL,NULL,0);
INSERT INTO capture VALUES(2,'87762aae-363b-4507-9a65-c114c7fabaf4','2026-11-27T00:59:24.865+00:00','2026-11-27T00:59:24.865+00:00','complete','R. Odegaard','c84366a8-8707-486a-ab1f-77bfcbb19e67','{"site":"North mill","name":"Boiler \"2\""}','{"minimumSignal":{"value":1.25,"unit":"V"},"seed":7}',9,9,0.80266643800000014863,NULL,NULL,NULL,NULL,0);
CREATE TABLE line (
  capture   INTEGER NOT NULL REFERENCES capture (key),
  seq       INTEGER NOT NULL,
  elapsed_s REAL NOT NULL,
  port      TEXT NOT NULL,
  raw       BLOB NOT NULL,
  PRIMARY KEY (capture, seq)
) STRICT, WITHOUT ROWID;
INSERT INTO line VALUES(1,1,0.0081069430000000018698,'practice:manometer',X'fffe');
INSERT INTO line VALUES(1,2,0.010256334000000038794,'practice:manometer',X'322e343030');
INSERT INTO line VALUES(1,3,0.01120829000000003392,'practice:flame-signal',X'342e353030');
INSERT INTO line VALUES(1,4,0.13312224999999999752,'practice:manometer',X'322e353030');
INSERT INTO line VALUES(1,5,0.13366751599999998623,'practice:flame-signal',X'342e353130');
INSERT INTO line VALUES(1,6,0.25469902199999999714,'practice:manometer',X'322e363030');
INSERT INTO line VALUES(1,7,0.25536949400000003018,'practice:flame-signal',X'4f4c');
INSERT INTO line VALUES(1,8,0.38007714500000006063,'practice:manometer',X'322e373030');
INSERT INTO line VALUES(1,9,0.38067745800000002409,'practice:flame-signal',X'342e353330');
INSERT INTO line VALUES(2,1,0.00096960200000012269558,'/dev/ttyUSB0',X'fffe');
INSERT INTO line VALUES(2,2,0.004776354000000083283,'/dev/ttyUSB0',X'332e313030');
INSERT INTO line VALUES(2,3,0.0049172120000000631157,'COM3',X'342e353030');
INSERT INTO line VALUES(2,4,0.12536222900000007496,'/dev/ttyUSB0',X'332e323030');
INSERT INTO line VALUES(2,5,0.12974897600000007136,'COM3',X'342e353130');
INSERT INTO line VALUES(2,6,0.25042990600000009093,'/dev/ttyUSB0',X'332e333030');
INSERT INTO line VALUES(2,7,0.25073532500000011991,'COM3',X'4f4c');
INSERT INTO line VALUES(2,8,0.37113405300000001929,'/dev/ttyUSB0',X'332e343030');
INSERT INTO line VALUES(2,9,0.371380871999999973,'COM3',X'342e353330');
CREATE TABLE channel (
  key     INTEGER PRIMARY KEY,
  capture INTEGER NOT NULL REFERENCES capture (key),
  role    TEXT NOT NULL,
  unit    TEXT NOT NULL,
  UNIQUE (capture, role, unit)
) STRICT;
INSERT INTO channel VALUES(1,1,'pilot_pressure','inH2O');
INSERT INTO channel VALUES(2,1,'flame_signal','V');
INSERT INTO channel VALUES(3,2,'pilot_pressure','inH2O');
INSERT INTO channel VALUES(4,2,'flame_signal','V');
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
INSERT INTO reading VALUES(1,1,1,0.0081069430000000018698,NULL,'unreadable',1,NULL);
INSERT INTO reading VALUES(1,2,1,0.010256334000000038794,2.3999999999999999111,NULL,2,NULL);
INSERT INTO reading VALUES(1,3,2,0.01120829000000003392,4.5,NULL,3,NULL);
INSERT INTO reading VALUES(1,4,1,0.13312224999999999752,2.5,NULL,4,NULL);
INSERT INTO reading VALUES(1,5,2,0.13366751599999998623,4.5099999999999997868,NULL,5,NULL);
INSERT INTO reading VALUES(1,6,1,0.25469902199999999714,2.6000000000000000888,NULL,6,NULL);
INSERT INTO reading VALUES(1,7,2,0.25536949400000003018,NULL,'overload',7,NULL);
INSERT INTO reading VALUES(1,8,1,0.38007714500000006063,2.7000000000000001776,NULL,8,NULL);
INSERT INTO reading VALUES(1,9,2,0.38067745800000002409,4.5300000000000002486,NULL,9,NULL);
INSERT INTO reading VALUES(2,1,3,0.00096960200000012269558,NULL,'unreadable',1,NULL);
INSERT INTO reading VALUES(2,2,3,0.004776354000000083283,3.1000000000000000888,NULL,2,NULL);
INSERT INTO reading VALUES(2,3,4,0.0049172120000000631157,4.5,NULL,3,NULL);
INSERT INTO reading VALUES(2,4,3,0.12536222900000007496,3.2000000000000001776,NULL,4,NULL);
INSERT INTO reading VALUES(2,5,4,0.12974897600000007136,4.5099999999999997868,NULL,5,NULL);
INSERT INTO reading VALUES(2,6,3,0.25042990600000009093,3.2999999999999998223,NULL,6,NULL);
INSERT INTO reading VALUES(2,7,4,0.25073532500000011991,NULL,'overload',7,NULL);
INSERT INTO reading VALUES(2,8,3,0.37113405300000001929,3.3999999999999999111,NULL,8,NULL);
INSERT INTO reading VALUES(2,9,4,0.371380871999999973,4.5300000000000002486,NULL,9,NULL);
CREATE TABLE mark (
  key       INTEGER PRIMARY KEY,
  capture   INTEGER NOT NULL REFERENCES capture (key),
  elapsed_s REAL NOT NULL,
  kind      TEXT NOT NULL,
  text      TEXT NOT NULL
) STRICT;
INSERT INTO mark VALUES(1,1,0.0020870730000000321455,'sweep-start','');
INSERT INTO mark VALUES(2,1,0.5026201130000000905,'sweep-end','');
INSERT INTO mark VALUES(3,1,0.50333901499999988971,'trial-start','2.55 inH2O');
INSERT INTO mark VALUES(4,1,0.8056786679999998757,'trial-end','lit');
INSERT INTO mark VALUES(5,2,0.0007707600000001093958,'sweep-start','');
INSERT INTO mark VALUES(6,2,0.49192023400000017829,'sweep-end','');
INSERT INTO mark VALUES(7,2,0.49225166300000000596,'trial-start','3.25 inH2O');
INSERT INTO mark VALUES(8,2,0.80266643800000014863,'trial-end','lit');
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
INSERT INTO trial VALUES(1,1,2.5499999999999998223,'inH2O',0.0,1,1.25,0.50333901499999988971);
INSERT INTO trial VALUES(2,2,3.250000000000000444,'inH2O',0.0,1,1.25,0.49225166300000000596);
CREATE TABLE note (
  key     INTEGER PRIMARY KEY,
  capture INTEGER NOT NULL REFERENCES capture (key),
  at      TEXT NOT NULL,           -- ISO 8601
  by      TEXT,
  text    TEXT NOT NULL
) STRICT;
INSERT INTO note VALUES(1,1,'2026-11-27T00:59:24.859+00:00','Practice','electrode cleaned');
INSERT INTO note VALUES(2,2,'2026-11-27T00:59:25.712+00:00','R. Odegaard','electrode cleaned');
CREATE TABLE IF NOT EXISTS "meter" (
  key         INTEGER PRIMARY KEY,
  capture     INTEGER NOT NULL REFERENCES capture (key),
  port        TEXT NOT NULL,
  profile     TEXT NOT NULL,
  description TEXT,
  reads       TEXT                 -- JSON, the profile as it was then; NULL when it is not known
) STRICT;
INSERT INTO meter VALUES(1,1,'practice:manometer','Manometer, one number a line',NULL,'{"name":"Manometer, one number a line","serial":{"baudRate":9600,"dataBits":8,"parity":"none","stopBits":1},"mode":"stream","line":{"format":"number"},"channels":[{"role":"pilot_pressure","unit":"inH2O","scale":1,"offset":0}],"overload":["OL","-OL","----"]}');
INSERT INTO meter VALUES(2,1,'practice:flame-signal','Multimeter, volts, one number a line',NULL,'{"name":"Multimeter, volts, one number a line","serial":{"baudRate":9600,"dataBits":8,"parity":"none","stopBits":1},"mode":"stream","line":{"format":"number"},"channels":[{"role":"flame_signal","unit":"V","scale":1,"offset":0}],"overload":["OL","-OL","----"]}');
INSERT INTO meter VALUES(3,2,'/dev/ttyUSB0','Manometer, one number a line',NULL,'{"name":"Manometer, one number a line","serial":{"baudRate":9600,"dataBits":8,"parity":"none","stopBits":1},"mode":"stream","line":{"format":"number"},"channels":[{"role":"pilot_pressure","unit":"inH2O","scale":1,"offset":0}],"overload":["OL","-OL","----"]}');
INSERT INTO meter VALUES(4,2,'COM3','Multimeter, volts, one number a line',NULL,'{"name":"Multimeter, volts, one number a line","serial":{"baudRate":9600,"dataBits":8,"parity":"none","stopBits":1},"mode":"stream","line":{"format":"number"},"channels":[{"role":"flame_signal","unit":"V","scale":1,"offset":0}],"overload":["OL","-OL","----"]}');
CREATE TABLE unread (
  key       INTEGER PRIMARY KEY,   -- in the order of arrival
  capture   INTEGER NOT NULL REFERENCES capture (key),
  elapsed_s REAL NOT NULL,
  port      TEXT NOT NULL,
  bytes     BLOB NOT NULL          -- whole lines, with their line ends
) STRICT;
CREATE INDEX capture_by_burner ON capture (burner_id);
CREATE INDEX mark_by_capture ON mark (capture, elapsed_s);
CREATE INDEX trial_by_capture ON trial (capture);
CREATE INDEX note_by_capture ON note (capture);
CREATE UNIQUE INDEX meter_once ON meter (capture, port, profile, ifnull(reads, ''));
CREATE INDEX unread_by_capture ON unread (capture, key);
COMMIT;
