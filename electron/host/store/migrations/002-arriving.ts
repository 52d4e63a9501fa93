/** A capture that is being imported is written in chunks: nobody sees it until the last one. See incomplete-import.ts. */
export const sql = `
ALTER TABLE capture ADD COLUMN arriving INTEGER NOT NULL DEFAULT 0 CHECK (arriving IN (0, 1));
`;
