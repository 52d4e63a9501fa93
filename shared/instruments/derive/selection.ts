import type { Role, Unit } from '../../model/reading.ts';

/** A number (or a word in its place) that was selected in a line, and what it measures. Positions as in `LineToken`. */
export interface NumberSelection {
  line: string;
  from: number;
  to: number;
  role: Role;
  unit: Unit;
}
