import { z } from 'zod';
import { roles } from '../reading.ts';
import { ColumnName, Mapping, separators } from './mapping.ts';

/** What a column is read as; `none` is left out. */
export const columnUses = ['time', 'date', ...roles, 'none'] as const;
export type ColumnUse = (typeof columnUses)[number];

/** A column of the file, and what it would be read as. */
export const PreviewColumn = z.object({
  /** As a mapping names it. */
  id: ColumnName,
  heading: z.string(),
  /** Its cell in the line of units. */
  below: z.string().optional(),
  use: z.enum(columnUses),
  /** As the file or the mapping writes it; missing where it is not known, or there is none. */
  unit: z.string().optional(),
  /** The units that it may be said to have: those that its heading writes, or where that has none, all of its kind. */
  units: z.array(z.string()),
});
export type PreviewColumn = z.infer<typeof PreviewColumn>;

/** What the data leave open. */
export const MappingQuestion = z.object({
  ask: z.string(),
  /** What makes it open. */
  why: z.string().optional(),
  /** Each with the whole mapping after it; none where it is answered by the other settings only. */
  choices: z.array(z.object({ label: z.string(), mapping: Mapping })),
});
export type MappingQuestion = z.infer<typeof MappingQuestion>;

/**
 * Readings of one column for a small plot: a few hundred at most, among them the lowest and the highest. A null stands where the line
 * breaks: at a reading without a number and at a pause.
 */
export const PreviewCurve = z.object({
  role: z.enum(roles),
  unit: z.string(),
  elapsedS: z.array(z.number()),
  value: z.array(z.number().nullable()),
  /** Readings of the whole file, and those without a number. */
  readings: z.int(),
  flagged: z.int(),
});
export type PreviewCurve = z.infer<typeof PreviewCurve>;

/** When the visit in the file of another logger began. */
export const LoggerStart = z.object({
  /** ISO 8601 with offset. */
  at: z.string(),
  /** Whose time zone that is: the file gives one, or the computer's is taken. */
  zone: z.enum(['file', 'computer']),
  /** The clocks of the computer's time zone were set forward or back near that time, so that the hour is uncertain. */
  clocksChanged: z.literal(true).optional(),
});
export type LoggerStart = z.infer<typeof LoggerStart>;

/** How the file of another logger would be read. */
export const MappingPreview = z.object({
  /** The mapping that it was made with: what somebody said. */
  mapping: Mapping,
  /** The first lines as they stand in the file. */
  lines: z.array(z.string()),
  table: z
    .object({
      separator: z.enum(separators),
      decimal: z.enum(['.', ',']),
      /** Lines before the heading, blank ones included. */
      linesBefore: z.int(),
      timeFormat: z.string().optional(),
      /** Formats in which the first time can be read. */
      timeFormats: z.array(z.string()),
      columns: z.array(PreviewColumn),
      /** Columns beyond those. */
      furtherColumns: z.int(),
      rows: z.array(z.array(z.string())),
      rowCount: z.int(),
    })
    .optional(),
  questions: z.array(MappingQuestion),
  curves: z.array(PreviewCurve),
  /** What is taken for what, once nothing is open. */
  taken: z.string().optional(),
  /** When the visit began; none where its times have no date, or are not read yet. */
  start: LoggerStart.optional(),
  /** What of the file would be left out, and why. */
  notices: z.array(z.string()),
  /** Why it cannot be read although nothing is open. */
  problem: z.string().optional(),
  /** Where a mapping is remembered for this heading: when it was used last, ISO 8601, and what of the file it does not fit. */
  remembered: z.object({ usedAt: z.string(), misfit: z.string().optional() }).optional(),
});
export type MappingPreview = z.infer<typeof MappingPreview>;
