/** Bytes that come faster than they can be decoded are stored raw, and decoded later. See unread.ts. */
export const sql = `
CREATE TABLE unread (
  key       INTEGER PRIMARY KEY,   -- in the order of arrival
  capture   INTEGER NOT NULL REFERENCES capture (key),
  elapsed_s REAL NOT NULL,
  port      TEXT NOT NULL,
  bytes     BLOB NOT NULL          -- whole lines, with their line ends
) STRICT;
CREATE INDEX unread_by_capture ON unread (capture, key);
`;
