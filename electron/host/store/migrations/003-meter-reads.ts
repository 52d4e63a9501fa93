/**
 * Each meter of a capture keeps the profile by which it was read: a user's own profile may be changed or removed later.
 * One port may have been read by two profiles of one name, so the profile itself is part of the unique key.
 */
export const sql = `
CREATE TABLE meter_new (
  key         INTEGER PRIMARY KEY,
  capture     INTEGER NOT NULL REFERENCES capture (key),
  port        TEXT NOT NULL,
  profile     TEXT NOT NULL,
  description TEXT,
  reads       TEXT                 -- JSON, the profile as it was then; NULL when it is not known
) STRICT;
INSERT INTO meter_new (key, capture, port, profile, description)
  SELECT key, capture, port, profile, description FROM meter;
DROP TABLE meter;
ALTER TABLE meter_new RENAME TO meter;
CREATE UNIQUE INDEX meter_once ON meter (capture, port, profile, ifnull(reads, ''));
`;
