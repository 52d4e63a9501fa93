import { fault, type Fault } from '../../model/faults.ts';
import type { Role } from '../../model/reading.ts';
import type { Separator } from '../../model/logger/mapping.ts';

/** What the data leave open, as a fault with the key of the mapping that settles it, and what the answer may be. */
export type OpenPoint = { fault: Fault } & (
  | { about: 'separator'; separators: readonly Separator[] }
  | { about: 'heading' }
  | { about: 'decimal' }
  /** Places of the columns that may be the time. */
  | { about: 'time-column'; columns: number[] }
  /** None where no usual format reads the times. */
  | { about: 'time-format'; formats: string[]; column: number; dateColumn?: number }
  /** Places of the columns that may be of this role. */
  | { about: 'column'; role: Role; columns: number[] }
  /** Units that the column may have, as a mapping may say them; none where its own is not read here. */
  | { about: 'unit'; role: Role; index: number; units: string[] }
  /** The mapping contradicts the file. */
  | { about: 'mapping' }
);

/** The two kinds of fault of an open point in `file`. */
export const openFaults = (file: string) => ({
  unclear: (problem: string, key: string): Fault => fault('map-unclear', { file, problem, key }),
  ambiguous: (what: string, candidates: string, key: string): Fault =>
    fault('map-ambiguous', { file, what, candidates, key }),
});
