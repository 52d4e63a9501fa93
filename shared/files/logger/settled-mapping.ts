import { columnName, type Mapping } from '../../model/logger/mapping.ts';
import type { Proposal } from './propose-mapping.ts';

/**
 * The mapping that says all that a proposal found, in one way: the same for a file that was read by its own signs and for one that was
 * read by a mapping that says them. It leaves the decimal sign open where no number has one.
 *
 * @param given  of which only the heading counts
 */
export function settledMapping(proposal: Proposal, given: Mapping = {}): Mapping {
  const { separator, decimal, decimalFound, time, columns } = proposal;
  const { names } = proposal.heading;
  const { skipLines, heading } = given;
  return {
    separator,
    ...(decimalFound !== 'none' && { decimal }),
    ...(skipLines !== undefined && { skipLines }),
    ...(heading !== undefined && { heading }),
    ...(time && {
      time: {
        column: columnName(names, time.column),
        ...(time.dateColumn !== undefined && { dateColumn: columnName(names, time.dateColumn) }),
        format: time.format,
      },
    }),
    columns: columns.map(({ index, role, unitText }) => ({ column: columnName(names, index), role, unit: unitText })),
  };
}
