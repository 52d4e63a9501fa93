import type { ReadingBatch } from '../../../shared/contract/api.ts';
import { roles, type Role } from '../../../shared/model/reading.ts';
import { firstIndexWhere } from '../../../shared/numerics/search.ts';

/** One role's readings in the order of time. Only the first `length` places are filled; `value` is NaN where flagged. */
export interface LiveColumn {
  elapsedS: Float64Array;
  value: Float64Array;
  length: number;
  /** The greatest value so far; 0 when there is none above it. */
  greatest: number;
  /** Grows with every reading that came out of order, and so moved the places of later ones. */
  shifts: number;
}

/** The stored readings of one capture. Outside React: batches are appended, plots read it on each frame. */
export interface LiveBuffer {
  append(batch: ReadingBatch): void;
  column(role: Role): LiveColumn;
  /** Number of the last stored reading in the buffer: a feed that is resumed starts after it. */
  readonly upTo: number;
  /** Grows with every batch, so that a plot knows whether there is anything new. */
  readonly revision: number;
  /** Latest elapsed time seen, seconds; 0 when empty. */
  readonly endS: number;
}

const empty = (): LiveColumn => ({
  elapsedS: new Float64Array(256),
  value: new Float64Array(256),
  length: 0,
  greatest: 0,
  shifts: 0,
});

/** An empty buffer. */
export function createLiveBuffer(): LiveBuffer {
  const columns = new Map<Role, LiveColumn>();
  let upTo = 0;
  let revision = 0;
  let endS = 0;

  return {
    append(batch) {
      for (let i = 0; i < batch.elapsedS.length; i++) {
        const role = roles[batch.role[i]!];
        if (!role) continue; // a newer host may know more roles than this page
        let column = columns.get(role);
        if (!column) columns.set(role, (column = empty()));
        const t = batch.elapsedS[i]!;
        insert(column, t, batch.flag[i] ? Number.NaN : batch.value[i]!);
        if (t > endS) endS = t;
      }
      upTo = Math.max(upTo, batch.upTo);
      revision += 1;
    },
    column: (role) => columns.get(role) ?? empty(),
    get upTo() {
      return upTo;
    },
    get revision() {
      return revision;
    },
    get endS() {
      return endS;
    },
  };
}

/** Live readings come in order and are appended; imported files may not be in order, so later places shift up. */
function insert(column: LiveColumn, t: number, value: number): void {
  if (column.length === column.elapsedS.length) {
    column.elapsedS = grown(column.elapsedS);
    column.value = grown(column.value);
  }
  let at = column.length;
  if (at > 0 && t < column.elapsedS[at - 1]!) {
    at = firstAfter(column, t);
    column.elapsedS.copyWithin(at + 1, at, column.length);
    column.value.copyWithin(at + 1, at, column.length);
    column.shifts += 1;
  }
  if (value > column.greatest) column.greatest = value;
  column.elapsedS[at] = t;
  column.value[at] = value;
  column.length += 1;
}

function grown(numbers: Float64Array): Float64Array {
  const next = new Float64Array(numbers.length * 2);
  next.set(numbers);
  return next;
}

/** Place of the first reading later than `t`; `length` when there is none. Binary search. */
export const firstAfter = ({ elapsedS, length }: LiveColumn, t: number): number =>
  firstIndexWhere(length, (i) => elapsedS[i]! > t);
