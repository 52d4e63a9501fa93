/** How a file of another logger was read is remembered by its heading, and offered for the next file that has the same. */
export const sql = `
CREATE TABLE mapping (
  heading TEXT PRIMARY KEY,
  json    TEXT NOT NULL,           -- JSON, Mapping
  used_at TEXT NOT NULL            -- ISO 8601, when a file was last imported with it
) STRICT;
`;
