import type { Role, Unit } from '../../model/reading.ts';

/** A number (or a word that stands for one) that was pointed at in a line, and what it is. Places as in `LinePart`. */
export interface Pointed {
  line: string;
  from: number;
  to: number;
  role: Role;
  unit: Unit;
}
