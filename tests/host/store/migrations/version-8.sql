-- A store of version 8, as Pilot Bench 0.1.0 wrote it before it remembered the files of other loggers. Frozen: never made anew.
-- The store of version 7, and then what version 8 made of it.
PRAGMA application_id = 1346532212;
PRAGMA user_version = 7;
PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE burner (
  id    TEXT PRIMARY KEY,
  facts TEXT NOT NULL,             -- JSON, BurnerFacts
  setup TEXT NOT NULL              -- JSON, Setup: what the next capture at this burner begins with
) STRICT;
INSERT INTO burner VALUES('9bf05f26-ccd5-45c4-9cb3-4f7dac145e6e','{"site":"North mill","name":"Boiler \"2\""}','{"minimumSignal":{"value":1.25,"unit":"V"}}');
INSERT INTO burner VALUES('b-2','{"site":"Läcker bakery","name":"Oven 3","serialNumber":"SN-4711","gas":"propane"}','{}');
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
, arriving INTEGER NOT NULL DEFAULT 0 CHECK (arriving IN (0, 1)), practice INTEGER NOT NULL DEFAULT 0 CHECK (practice IN (0, 1)), recorded_here INTEGER NOT NULL DEFAULT 0 CHECK (recorded_here IN (0, 1))) STRICT;
INSERT INTO capture VALUES(1,'a92cd697-2785-4de8-bc53-976e3bcf45a6','2026-11-27T02:07:00.626+00:00','2026-11-27T02:07:00.626+00:00','interrupted','R. Odegaard','9bf05f26-ccd5-45c4-9cb3-4f7dac145e6e','{"site":"North mill","name":"Boiler \"2\""}','{"minimumSignal":{"value":1.25,"unit":"V"},"purgeSeconds":0.05,"seed":7}',18,18,1.1109604630000000646,NULL,NULL,NULL,NULL,0,0,0);
INSERT INTO capture VALUES(2,'visit-1',NULL,'2026-11-27T09:00:00.000+00:00','complete',NULL,NULL,NULL,'{}',0,2,0.5,NULL,NULL,NULL,NULL,0,0,0);
INSERT INTO capture VALUES(3,'visit-east','2026-03-02T01:30:00.000+10:00','2026-03-02T01:30:00.000+10:00','complete','M. Søndergård','b-2','{"site":"Läcker bakery","name":"Oven 2","serialNumber":"SN-4711"}','{}',0,0,61.5,NULL,NULL,NULL,NULL,0,0,1);
INSERT INTO capture VALUES(4,'visit-west','2026-03-01T12:00:00.000-05:00','2026-03-01T12:00:00.000-05:00','complete','A. Pérez','b-2','{"site":"Läcker bakery","name":"Oven 2","serialNumber":"SN-4711"}','{}',0,0,30.0,NULL,NULL,NULL,NULL,0,1,1);
INSERT INTO capture VALUES(5,'arriving 1',NULL,'2026-03-03T10:00:00Z','interrupted',NULL,NULL,NULL,'{}',0,0,0.0,NULL,NULL,NULL,NULL,1,0,0);
CREATE TABLE line (
  capture   INTEGER NOT NULL REFERENCES capture (key),
  seq       INTEGER NOT NULL,
  elapsed_s REAL NOT NULL,
  port      TEXT NOT NULL,
  raw       BLOB NOT NULL,
  PRIMARY KEY (capture, seq)
) STRICT, WITHOUT ROWID;
INSERT INTO line VALUES(1,1,0.0023237440000000333766,'/dev/ttyUSB0',X'322e3430');
INSERT INTO line VALUES(1,2,0.0042536740000000466607,'COM3',X'342e3530');
INSERT INTO line VALUES(1,3,0.12510188300000005257,'/dev/ttyUSB0',X'322e3530');
INSERT INTO line VALUES(1,4,0.12548389000000004234,'COM3',X'342e3531');
INSERT INTO line VALUES(1,5,0.24656740200000007434,'/dev/ttyUSB0',X'322e3630');
INSERT INTO line VALUES(1,6,0.24730006800000006728,'COM3',X'4f4c');
INSERT INTO line VALUES(1,7,0.37162113400000001961,'/dev/ttyUSB0',X'322e3435');
INSERT INTO line VALUES(1,8,0.3720792910000000897,'COM3',X'342e3430');
INSERT INTO line VALUES(1,9,0.49607759100000003993,'/dev/ttyUSB0',X'322e3435');
INSERT INTO line VALUES(1,10,0.49653730099999998648,'COM3',X'342e3430');
INSERT INTO line VALUES(1,11,0.61978003500000000691,'/dev/ttyUSB0',X'322e3435');
INSERT INTO line VALUES(1,12,0.62044953000000013787,'COM3',X'342e3430');
INSERT INTO line VALUES(1,13,0.74291979500000004943,'/dev/ttyUSB0',X'322e3435');
INSERT INTO line VALUES(1,14,0.74317487000000004293,'COM3',X'342e3430');
INSERT INTO line VALUES(1,15,0.86617896600000021667,'/dev/ttyUSB0',X'322e3435');
INSERT INTO line VALUES(1,16,0.86658870100000018332,'COM3',X'342e3430');
INSERT INTO line VALUES(1,17,0.98934155299999992916,'/dev/ttyUSB0',X'322e3435');
INSERT INTO line VALUES(1,18,0.98979437700000016953,'COM3',X'342e3430');
CREATE TABLE channel (
  key     INTEGER PRIMARY KEY,
  capture INTEGER NOT NULL REFERENCES capture (key),
  role    TEXT NOT NULL,
  unit    TEXT NOT NULL,
  UNIQUE (capture, role, unit)
) STRICT;
INSERT INTO channel VALUES(1,1,'pilot_pressure','inH2O');
INSERT INTO channel VALUES(2,1,'flame_signal','V');
INSERT INTO channel VALUES(3,2,'pilot_pressure','Pa');
INSERT INTO channel VALUES(4,2,'flame_signal','uA');
INSERT INTO channel VALUES(5,3,'flame_signal','uA');
INSERT INTO channel VALUES(6,3,'pilot_pressure','mbar');
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
INSERT INTO reading VALUES(1,1,1,0.0023237440000000333766,2.3999999999999999111,NULL,1,NULL);
INSERT INTO reading VALUES(1,2,2,0.0042536740000000466607,4.5,NULL,2,NULL);
INSERT INTO reading VALUES(1,3,1,0.12510188300000005257,2.5,NULL,3,NULL);
INSERT INTO reading VALUES(1,4,2,0.12548389000000004234,4.5099999999999997868,NULL,4,NULL);
INSERT INTO reading VALUES(1,5,1,0.24656740200000007434,2.6000000000000000888,NULL,5,NULL);
INSERT INTO reading VALUES(1,6,2,0.24730006800000006728,NULL,'overload',6,NULL);
INSERT INTO reading VALUES(1,7,1,0.37162113400000001961,2.4500000000000001776,NULL,7,NULL);
INSERT INTO reading VALUES(1,8,2,0.3720792910000000897,4.4000000000000003552,NULL,8,NULL);
INSERT INTO reading VALUES(1,9,1,0.49607759100000003993,2.4500000000000001776,NULL,9,NULL);
INSERT INTO reading VALUES(1,10,2,0.49653730099999998648,4.4000000000000003552,NULL,10,NULL);
INSERT INTO reading VALUES(1,11,1,0.61978003500000000691,2.4500000000000001776,NULL,11,NULL);
INSERT INTO reading VALUES(1,12,2,0.62044953000000013787,4.4000000000000003552,NULL,12,NULL);
INSERT INTO reading VALUES(1,13,1,0.74291979500000004943,2.4500000000000001776,NULL,13,NULL);
INSERT INTO reading VALUES(1,14,2,0.74317487000000004293,4.4000000000000003552,NULL,14,NULL);
INSERT INTO reading VALUES(1,15,1,0.86617896600000021667,2.4500000000000001776,NULL,15,NULL);
INSERT INTO reading VALUES(1,16,2,0.86658870100000018332,4.4000000000000003552,NULL,16,NULL);
INSERT INTO reading VALUES(1,17,1,0.98934155299999992916,2.4500000000000001776,NULL,17,NULL);
INSERT INTO reading VALUES(1,18,2,0.98979437700000016953,4.4000000000000003552,NULL,18,NULL);
INSERT INTO reading VALUES(2,1,3,0.0,600.0,NULL,NULL,'600');
INSERT INTO reading VALUES(2,2,4,0.5,20.0,NULL,NULL,'20');
CREATE TABLE mark (
  key       INTEGER PRIMARY KEY,
  capture   INTEGER NOT NULL REFERENCES capture (key),
  elapsed_s REAL NOT NULL,
  kind      TEXT NOT NULL,
  text      TEXT NOT NULL
) STRICT;
INSERT INTO mark VALUES(1,1,0.0017010310000000004176,'sweep-start','');
INSERT INTO mark VALUES(2,1,0.37069576599999998212,'sweep-end','');
INSERT INTO mark VALUES(3,1,0.49436641900000000138,'trial-start','2.49 inH2O');
INSERT INTO mark VALUES(4,1,0.61955811500000002034,'trial-end','lit');
INSERT INTO mark VALUES(5,1,0.74210078599999995674,'trial-start','2.47 inH2O, delayed spark, 5 s');
INSERT INTO mark VALUES(6,1,0.86592680200000016199,'trial-end','lit');
INSERT INTO mark VALUES(7,1,0.98868140800000015033,'trial-start','2.47 inH2O');
INSERT INTO mark VALUES(8,1,1.1109604630000000646,'trial-end','not lit');
INSERT INTO mark VALUES(9,4,3.0,'note','draft gusty');
INSERT INTO mark VALUES(10,4,4.0,'as-left','6.10 mbar, 3.10 uA');
CREATE TABLE note (
  key     INTEGER PRIMARY KEY,
  capture INTEGER NOT NULL REFERENCES capture (key),
  at      TEXT NOT NULL,           -- ISO 8601
  by      TEXT,
  text    TEXT NOT NULL
) STRICT;
INSERT INTO note VALUES(1,1,'2026-11-27T02:07:01.737+00:00','R. Odegaard','electrode cleaned');
INSERT INTO note VALUES(2,3,'2026-03-02T02:00:00+10:00','M. Søndergård','electrode "B" replaced; 50% worn');
CREATE TABLE IF NOT EXISTS "meter" (
  key         INTEGER PRIMARY KEY,
  capture     INTEGER NOT NULL REFERENCES capture (key),
  port        TEXT NOT NULL,
  profile     TEXT NOT NULL,
  description TEXT,
  reads       TEXT                 -- JSON, the profile as it was then; NULL when it is not known
) STRICT;
INSERT INTO meter VALUES(1,1,'/dev/ttyUSB0','Manometer, one number a line',NULL,'{"name":"Manometer, one number a line","serial":{"baudRate":9600,"dataBits":8,"parity":"none","stopBits":1},"mode":"stream","line":{"format":"number"},"channels":[{"role":"pilot_pressure","unit":"inH2O","scale":1,"offset":0}],"overload":["OL","-OL","----"]}');
INSERT INTO meter VALUES(2,1,'COM3','Multimeter, volts, one number a line',NULL,'{"name":"Multimeter, volts, one number a line","serial":{"baudRate":9600,"dataBits":8,"parity":"none","stopBits":1},"mode":"stream","line":{"format":"number"},"channels":[{"role":"flame_signal","unit":"V","scale":1,"offset":0}],"overload":["OL","-OL","----"]}');
CREATE TABLE unread (
  key       INTEGER PRIMARY KEY,   -- in the order of arrival
  capture   INTEGER NOT NULL REFERENCES capture (key),
  elapsed_s REAL NOT NULL,
  port      TEXT NOT NULL,
  bytes     BLOB NOT NULL          -- whole lines, with their line ends
) STRICT;
CREATE TABLE IF NOT EXISTS "trial" (
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
INSERT INTO trial VALUES(1,1,2.4874999999999998223,'inH2O',0.0,1,1.25,0.49436641900000000138,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO trial VALUES(2,1,2.4749999999999996447,'inH2O',5.0,1,6.5,0.74210078599999995674,NULL,'meters','valid',NULL,NULL,15.499999999999999999,'confirmed',0.2000000000000000111,2.4500000000000001776,NULL);
INSERT INTO trial VALUES(3,1,2.4687499999999995559,'inH2O',0.0,0,NULL,0.98868140800000015033,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO trial VALUES(4,2,600.0,'Pa',0.0,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO trial VALUES(5,2,380.0,'Pa',3.0,0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO trial VALUES(6,1,2.4874999999999998223,'inH2O',0.0,0,NULL,0.49436641900000000138,NULL,'corrected',NULL,1,'entered for the wrong trial',NULL,NULL,NULL,NULL,NULL);
INSERT INTO trial VALUES(7,3,6.0999999999999996447,'mbar',0.0,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO trial VALUES(8,3,6.0999999999999996447,'mbar',0.0,0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO trial VALUES(9,3,6.0999999999999996447,'mbar',5.0,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO trial VALUES(10,3,6.0999999999999996447,'mbar',0.0,0,NULL,NULL,NULL,NULL,'void',2,'cable was out',NULL,NULL,NULL,NULL,NULL);
CREATE INDEX capture_by_burner ON capture (burner_id);
CREATE INDEX mark_by_capture ON mark (capture, elapsed_s);
CREATE INDEX note_by_capture ON note (capture);
CREATE UNIQUE INDEX meter_once ON meter (capture, port, profile, ifnull(reads, ''));
CREATE INDEX unread_by_capture ON unread (capture, key);
CREATE INDEX trial_by_capture ON trial (capture);
COMMIT;
-- Seconds since 1970 by which captures are listed: two of different time zones cannot be compared as text.
ALTER TABLE capture ADD COLUMN listed_at REAL NOT NULL DEFAULT 0;
CREATE VIEW capture_time AS
  SELECT key, coalesce(unixepoch(started_at, 'subsec'), unixepoch(substr(started_at, 1, 19), 'subsec'),
    unixepoch(added_at, 'subsec'), 0) AS listed_at
  FROM capture;
UPDATE capture SET listed_at = (SELECT listed_at FROM capture_time WHERE key = capture.key);

CREATE INDEX capture_by_time ON capture (listed_at DESC, key DESC) WHERE arriving = 0;
CREATE INDEX capture_by_status ON capture (status);
CREATE INDEX capture_arriving ON capture (arriving) WHERE arriving = 1;
CREATE INDEX burner_by_name ON burner (CASE WHEN json_valid(facts) THEN facts ->> '$.name' END);

CREATE TABLE list_version (version INTEGER NOT NULL) STRICT;
INSERT INTO list_version VALUES (1);

-- The words by which each visible capture is found: the burner as it was at the visit and as it is known now.
CREATE VIEW capture_words AS
  SELECT key, id, technician, substr(coalesce(started_at, added_at), 1, 10) AS day,
    (SELECT group_concat(value, ' ') FROM json_each(CASE WHEN json_valid(capture.burner) THEN capture.burner ELSE '{}' END))
      AS burner_then,
    (SELECT group_concat(value, ' ') FROM burner, json_each(CASE WHEN json_valid(facts) THEN facts ELSE '{}' END)
      WHERE burner.id = capture.burner_id) AS burner_now,
    (SELECT group_concat(text, ' ') FROM note WHERE note.capture = capture.key) AS notes,
    (SELECT group_concat(text, ' ') FROM mark WHERE mark.capture = capture.key AND kind = 'note') AS marks
  FROM capture WHERE arriving = 0;
CREATE VIRTUAL TABLE capture_search USING fts5 (
  id, technician, day, burner_then, burner_now, notes, marks,
  tokenize = 'unicode61 remove_diacritics 2', prefix = '1 2 3'
);
INSERT INTO capture_search (rowid, id, technician, day, burner_then, burner_now, notes, marks) SELECT key, id, technician, day, burner_then, burner_now, notes, marks FROM capture_words WHERE TRUE;

CREATE TRIGGER capture_added AFTER INSERT ON capture BEGIN
  UPDATE capture SET listed_at = (SELECT listed_at FROM capture_time WHERE key = new.key) WHERE key = new.key;
  DELETE FROM capture_search WHERE rowid = new.key; INSERT INTO capture_search (rowid, id, technician, day, burner_then, burner_now, notes, marks) SELECT key, id, technician, day, burner_then, burner_now, notes, marks FROM capture_words WHERE key = new.key; UPDATE list_version SET version = version + 1;
END;
CREATE TRIGGER capture_changed AFTER UPDATE OF
  id, started_at, added_at, status, technician, burner_id, burner, practice, arriving, recorded_here ON capture
BEGIN
  UPDATE capture SET listed_at = (SELECT listed_at FROM capture_time WHERE key = new.key) WHERE key = new.key;
  DELETE FROM capture_search WHERE rowid = new.key; INSERT INTO capture_search (rowid, id, technician, day, burner_then, burner_now, notes, marks) SELECT key, id, technician, day, burner_then, burner_now, notes, marks FROM capture_words WHERE key = new.key; UPDATE list_version SET version = version + 1;
END;
CREATE TRIGGER capture_removed AFTER DELETE ON capture BEGIN
  DELETE FROM capture_search WHERE rowid = old.key;
  UPDATE list_version SET version = version + 1;
END;
CREATE TRIGGER burner_changed AFTER UPDATE OF facts ON burner WHEN old.facts IS NOT new.facts BEGIN
  DELETE FROM capture_search WHERE rowid IN (SELECT key FROM capture WHERE burner_id = new.id);
  INSERT INTO capture_search (rowid, id, technician, day, burner_then, burner_now, notes, marks) SELECT key, id, technician, day, burner_then, burner_now, notes, marks FROM capture_words WHERE key IN (SELECT key FROM capture WHERE burner_id = new.id);
  UPDATE list_version SET version = version + 1;
END;

CREATE TRIGGER note_added AFTER INSERT ON note  BEGIN DELETE FROM capture_search WHERE rowid = new.capture; INSERT INTO capture_search (rowid, id, technician, day, burner_then, burner_now, notes, marks) SELECT key, id, technician, day, burner_then, burner_now, notes, marks FROM capture_words WHERE key = new.capture; UPDATE list_version SET version = version + 1; END;
CREATE TRIGGER note_changed AFTER UPDATE ON note  BEGIN DELETE FROM capture_search WHERE rowid = new.capture; INSERT INTO capture_search (rowid, id, technician, day, burner_then, burner_now, notes, marks) SELECT key, id, technician, day, burner_then, burner_now, notes, marks FROM capture_words WHERE key = new.capture; UPDATE list_version SET version = version + 1; END;
CREATE TRIGGER note_removed AFTER DELETE ON note  BEGIN DELETE FROM capture_search WHERE rowid = old.capture; INSERT INTO capture_search (rowid, id, technician, day, burner_then, burner_now, notes, marks) SELECT key, id, technician, day, burner_then, burner_now, notes, marks FROM capture_words WHERE key = old.capture; UPDATE list_version SET version = version + 1; END;

CREATE TRIGGER mark_added AFTER INSERT ON mark WHEN new.kind = 'note' AND (SELECT status FROM capture WHERE key = new.capture) = 'complete' BEGIN DELETE FROM capture_search WHERE rowid = new.capture; INSERT INTO capture_search (rowid, id, technician, day, burner_then, burner_now, notes, marks) SELECT key, id, technician, day, burner_then, burner_now, notes, marks FROM capture_words WHERE key = new.capture; UPDATE list_version SET version = version + 1; END;
CREATE TRIGGER mark_changed AFTER UPDATE ON mark WHEN new.kind = 'note' AND (SELECT status FROM capture WHERE key = new.capture) = 'complete' BEGIN DELETE FROM capture_search WHERE rowid = new.capture; INSERT INTO capture_search (rowid, id, technician, day, burner_then, burner_now, notes, marks) SELECT key, id, technician, day, burner_then, burner_now, notes, marks FROM capture_words WHERE key = new.capture; UPDATE list_version SET version = version + 1; END;
CREATE TRIGGER mark_removed AFTER DELETE ON mark WHEN old.kind = 'note' AND (SELECT status FROM capture WHERE key = old.capture) = 'complete' BEGIN DELETE FROM capture_search WHERE rowid = old.capture; INSERT INTO capture_search (rowid, id, technician, day, burner_then, burner_now, notes, marks) SELECT key, id, technician, day, burner_then, burner_now, notes, marks FROM capture_words WHERE key = old.capture; UPDATE list_version SET version = version + 1; END;
CREATE TRIGGER trial_added AFTER INSERT ON trial BEGIN UPDATE list_version SET version = version + 1; END;
CREATE TRIGGER trial_changed AFTER UPDATE ON trial BEGIN UPDATE list_version SET version = version + 1; END;
CREATE TRIGGER trial_removed AFTER DELETE ON trial BEGIN UPDATE list_version SET version = version + 1; END;
PRAGMA user_version = 8;
