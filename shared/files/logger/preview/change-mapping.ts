import type { Mapping } from '../../../model/logger/mapping.ts';
import type { ColumnUse, PreviewColumn } from '../../../model/logger/preview.ts';
import type { Role } from '../../../model/reading.ts';

/** Changes that somebody makes to a mapping by its preview; each gives the whole mapping after it. */

const roleOf = ({ use }: PreviewColumn): Role | undefined =>
  use === 'time' || use === 'date' || use === 'none' ? undefined : use;

/** The columns as they are read now, as a mapping lists them. */
const listedColumns = (columns: readonly PreviewColumn[]): NonNullable<Mapping['columns']> =>
  columns.flatMap((column) => {
    const role = roleOf(column);
    return role ? [{ column: column.id, role, ...(column.unit !== undefined && { unit: column.unit }) }] : [];
  });

/** The mapping with another use of one column. The column that had this use before is left out. */
export function withUse(
  mapping: Mapping,
  columns: readonly PreviewColumn[],
  changed: PreviewColumn,
  use: ColumnUse,
): Mapping {
  const others = columns.filter(({ id, use: other }) => id !== changed.id && other !== use);
  const rest = listedColumns(others);
  const role = roleOf({ ...changed, use });
  // Its unit may not be one of the new role.
  const listed = role ? [...rest, { column: changed.id, role }] : rest;
  const timeId = use === 'time' ? changed.id : others.find((column) => column.use === 'time')?.id;
  const dateId = use === 'date' ? changed.id : others.find((column) => column.use === 'date')?.id;
  const isOfTime = (one: ColumnUse) => one === 'time' || one === 'date';
  if (!isOfTime(use) && !isOfTime(changed.use)) return { ...mapping, columns: listed };
  // The format was that of the columns before.
  const place = {
    ...(timeId !== undefined && { column: timeId }),
    ...(dateId !== undefined && { dateColumn: dateId }),
  };
  return { ...mapping, columns: listed, time: place };
}

/** The mapping with another unit of one column. */
export const withColumnUnit = (
  mapping: Mapping,
  columns: readonly PreviewColumn[],
  changed: PreviewColumn,
  unit: string,
): Mapping => ({
  ...mapping,
  columns: listedColumns(columns.map((one) => (one === changed ? { ...one, unit } : one))),
});

/** The mapping with another format of the time. */
export const withTimeFormat = (mapping: Mapping, columns: readonly PreviewColumn[], format: string): Mapping => {
  const column = columns.find(({ use }) => use === 'time')?.id ?? mapping.time?.column;
  const dateColumn = columns.find(({ use }) => use === 'date')?.id ?? mapping.time?.dateColumn;
  return {
    ...mapping,
    time: { ...(column !== undefined && { column }), ...(dateColumn !== undefined && { dateColumn }), format },
  };
};
