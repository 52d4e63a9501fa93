import { z } from 'zod';
import { fault } from '../../model/faults.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import { roles } from '../../model/reading.ts';
import { issueMessage } from '../../model/validation/issue-message.ts';
import { readJson } from '../../model/validation/json-text.ts';
import { unknownKeyNotices } from '../../model/validation/unknown-keys.ts';
import type { NamedText } from '../setup-file.ts';
import { separators } from './split-rows.ts';

/** A column by its heading, or by its position from 1 where two have the same. */
const Column = z.union([z.string(), z.int().min(1)]);
export type ColumnName = z.infer<typeof Column>;

/** How a logger's file is read; what is left out is told by the data. */
export const Mapping = z.object({
  separator: z.enum(separators).optional(),
  decimal: z.enum(['.', ',']).optional(),
  /** Lines before the heading; blank lines count. */
  skipLines: z.int().min(0).optional(),
  time: z
    .object({
      column: Column.optional(),
      /** Where the date stands in a column of its own; the format is then that of date, blank and time. */
      dateColumn: Column.optional(),
      /** Such as dd.MM.yyyy HH:mm:ss,SSS; or s, ms, min, h for a number. */
      format: z.string().max(60).optional(),
    })
    .optional(),
  columns: z.array(z.object({ column: Column, role: z.enum(roles), unit: z.string().optional() })).optional(),
});
export type Mapping = z.infer<typeof Mapping>;

/** The places of the columns of that name. */
export const columnsNamed = (names: readonly string[], column: ColumnName): number[] =>
  typeof column === 'number'
    ? names.length >= column
      ? [column - 1]
      : []
    : names.flatMap((name, index) => (name === column ? [index] : []));

/** The column as a mapping names it: by its heading, or by its position where that is blank or another has the same. */
export const columnName = (names: readonly string[], index: number): ColumnName => {
  const name = names[index] ?? '';
  return name !== '' && columnsNamed(names, name).length === 1 ? name : index + 1;
};

/** Reads the file of `--map`. Unknown keys are left out, with a notice. Fails with `map-invalid`. */
export function readMapping({ file, text }: NamedText): Outcome<{ mapping: Mapping; notices: string[] }> {
  const json = readJson(text);
  if (!json.ok) return fail(fault('map-invalid', { file, problems: json.problem }));
  const read = Mapping.safeParse(json.value);
  if (!read.success)
    return fail(fault('map-invalid', { file, problems: read.error.issues.map(issueMessage).join('; ') }));
  return ok({ mapping: read.data, notices: unknownKeyNotices(file, json.value as object, read.data) });
}
