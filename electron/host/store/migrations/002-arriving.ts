/** A capture that is being imported comes in pieces: it is not there for anybody until the last piece. See arriving.ts. */
export const sql = `
ALTER TABLE capture ADD COLUMN arriving INTEGER NOT NULL DEFAULT 0 CHECK (arriving IN (0, 1));
`;
