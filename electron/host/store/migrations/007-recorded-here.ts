/**
 * Whether a capture was recorded by this store's own Pilot Bench: one from a file carries meters of its own choosing, whose polls are
 * not to be written to a port here. Of captures that are here already nobody knows; they count as imported.
 */
export const sql = `
ALTER TABLE capture ADD COLUMN recorded_here INTEGER NOT NULL DEFAULT 0 CHECK (recorded_here IN (0, 1));
`;
