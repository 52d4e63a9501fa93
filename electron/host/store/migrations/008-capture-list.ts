const columns = 'id, technician, day, burner_then, burner_now, notes, marks';
/** A list was changed. */
const count = 'UPDATE list_version SET version = version + 1;';
const insertWhere = (condition: string): string =>
  `INSERT INTO capture_search (rowid, ${columns}) SELECT key, ${columns} FROM capture_words WHERE ${condition};`;
/** Indexes the words of one capture anew. */
const index = (key: string): string =>
  `DELETE FROM capture_search WHERE rowid = ${key}; ${insertWhere(`key = ${key}`)} ${count}`;
/** Triggers that index a capture anew after each change of its rows in `table`. */
const indexAfter = (table: string, when: (row: 'new' | 'old') => string = () => ''): string => `
CREATE TRIGGER ${table}_added AFTER INSERT ON ${table} ${when('new')} BEGIN ${index('new.capture')} END;
CREATE TRIGGER ${table}_changed AFTER UPDATE ON ${table} ${when('new')} BEGIN ${index('new.capture')} END;
CREATE TRIGGER ${table}_removed AFTER DELETE ON ${table} ${when('old')} BEGIN ${index('old.capture')} END;`;

/**
 * A list of ten thousand captures is read page by page, newest first, and searched by its words.
 *
 * What can be searched is kept by triggers, so that it follows every change, whoever makes it. `list_version` grows with each change that
 * lists show: pages ask for it instead of reading the list again. Marks of a capture that is being recorded are indexed when its
 * status changes: a meter that flips its unit ten times a second makes a note each time.
 */
export const sql = `
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
  ${columns},
  tokenize = 'unicode61 remove_diacritics 2', prefix = '1 2 3'
);
${insertWhere('TRUE')}

CREATE TRIGGER capture_added AFTER INSERT ON capture BEGIN
  UPDATE capture SET listed_at = (SELECT listed_at FROM capture_time WHERE key = new.key) WHERE key = new.key;
  ${index('new.key')}
END;
CREATE TRIGGER capture_changed AFTER UPDATE OF
  id, started_at, added_at, status, technician, burner_id, burner, practice, arriving, recorded_here ON capture
BEGIN
  UPDATE capture SET listed_at = (SELECT listed_at FROM capture_time WHERE key = new.key) WHERE key = new.key;
  ${index('new.key')}
END;
CREATE TRIGGER capture_removed AFTER DELETE ON capture BEGIN
  DELETE FROM capture_search WHERE rowid = old.key;
  ${count}
END;
CREATE TRIGGER burner_changed AFTER UPDATE OF facts ON burner WHEN old.facts IS NOT new.facts BEGIN
  DELETE FROM capture_search WHERE rowid IN (SELECT key FROM capture WHERE burner_id = new.id);
  ${insertWhere('key IN (SELECT key FROM capture WHERE burner_id = new.id)')}
  ${count}
END;
${indexAfter('note')}
${indexAfter('mark', (row) => `WHEN ${row}.kind = 'note' AND (SELECT status FROM capture WHERE key = ${row}.capture) = 'complete'`)}
CREATE TRIGGER trial_added AFTER INSERT ON trial BEGIN ${count} END;
CREATE TRIGGER trial_changed AFTER UPDATE ON trial BEGIN ${count} END;
CREATE TRIGGER trial_removed AFTER DELETE ON trial BEGIN ${count} END;
`;
