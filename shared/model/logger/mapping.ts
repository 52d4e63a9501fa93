import { z } from 'zod';
import { roles } from '../reading.ts';

export const separators = ['\t', ';', ','] as const;
export type Separator = (typeof separators)[number];

/** A column by its heading, or by its position from 1 where two have the same. */
export const ColumnName = z.union([z.string(), z.int().min(1)]);
export type ColumnName = z.infer<typeof ColumnName>;

/** How the file of another logger is read; what is left out is told by the data. */
export const Mapping = z.object({
  separator: z.enum(separators).optional(),
  decimal: z.enum(['.', ',']).optional(),
  /** Lines before the heading; blank lines count. */
  skipLines: z.int().min(0).optional(),
  /** False where the file has none; its columns are then named by their position. */
  heading: z.boolean().optional(),
  time: z
    .object({
      column: ColumnName.optional(),
      /** Where the date stands in a column of its own; the format is then that of date, blank and time. */
      dateColumn: ColumnName.optional(),
      /** Such as dd.MM.yyyy HH:mm:ss,SSS; or s, ms, min, h for a number. */
      format: z.string().max(60).optional(),
    })
    .optional(),
  columns: z.array(z.object({ column: ColumnName, role: z.enum(roles), unit: z.string().optional() })).optional(),
});
export type Mapping = z.infer<typeof Mapping>;

/** The places of the columns of that name. */
export const columnsNamed = (names: readonly string[], column: ColumnName): number[] => {
  if (typeof column === 'string') return names.flatMap((name, index) => (name === column ? [index] : []));
  return column <= names.length ? [column - 1] : [];
};

/** The column as a mapping names it: by its heading, or by its position where that is blank or another has the same. */
export const columnName = (names: readonly string[], index: number): ColumnName => {
  const name = names[index] ?? '';
  return name !== '' && columnsNamed(names, name).length === 1 ? name : index + 1;
};
