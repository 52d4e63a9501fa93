import { z } from 'zod';
import { fault } from '../../model/faults.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import { roles } from '../../model/reading.ts';
import { issueMessage } from '../../model/validation/issue-message.ts';
import { readJson } from '../../model/validation/json-text.ts';
import { unknownKeyNotices } from '../../model/validation/unknown-keys.ts';
import type { NamedText } from '../setup-file.ts';
import { separators } from './split-rows.ts';

/** How a logger's file is read; what is left out is told by the data. A column is named by its heading. */
export const Mapping = z.object({
  separator: z.enum(separators).optional(),
  decimal: z.enum(['.', ',']).optional(),
  /** Lines before the heading; blank lines count. */
  skipLines: z.int().min(0).optional(),
  time: z
    .object({
      column: z.string().optional(),
      /** Where the date stands in a column of its own; the format is then that of date, blank and time. */
      dateColumn: z.string().optional(),
      /** Such as dd.MM.yyyy HH:mm:ss,SSS; or s, ms, min, h for a number. */
      format: z.string().max(60).optional(),
    })
    .optional(),
  columns: z
    .array(z.object({ column: z.string(), role: z.enum(roles), unit: z.string().optional() }))
    .min(1)
    .optional(),
});
export type Mapping = z.infer<typeof Mapping>;

/** Reads the file of `--map`. Unknown keys are left out, with a notice. Fails with `map-invalid`. */
export function readMapping({ file, text }: NamedText): Outcome<{ mapping: Mapping; notices: string[] }> {
  const json = readJson(text);
  if (!json.ok) return fail(fault('map-invalid', { file, problems: json.problem }));
  const read = Mapping.safeParse(json.value);
  if (!read.success)
    return fail(fault('map-invalid', { file, problems: read.error.issues.map(issueMessage).join('; ') }));
  return ok({ mapping: read.data, notices: unknownKeyNotices(file, json.value as object, read.data) });
}
