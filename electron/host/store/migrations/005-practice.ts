/**
 * Whether any of a capture came from the practice bench is a fact of the capture: a CSV that is taken in has no meters to say so.
 * Captures that are here already have them.
 */
export const sql = `
ALTER TABLE capture ADD COLUMN practice INTEGER NOT NULL DEFAULT 0 CHECK (practice IN (0, 1));
UPDATE capture SET practice = 1 WHERE key IN (SELECT capture FROM meter WHERE substr(port, 1, 9) = 'practice:');
`;
