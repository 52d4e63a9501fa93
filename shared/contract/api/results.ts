import { z } from 'zod';
import { CaptureAdvice } from '../../model/results/advice.ts';
import { AnalysisDetail, ComparisonDetail } from '../../model/results/analysis-result.ts';
import { Mapping } from '../../model/logger/mapping.ts';
import { MappingPreview } from '../../model/logger/preview.ts';
import { Setup } from '../../model/setup.ts';
import { call, feed } from '../define.ts';
import { fault, namedBytes, nothing } from './shapes.ts';

/**
 * A capture that a file held. `differs` names the parts in which the file differs from the capture that the store has already, and
 * `notices` are sentences about what of the file was left out, and why. Both are absent when there is nothing to report.
 * Of another logger's file `startedAt` is when it began, ISO 8601 with offset, where the file says so, and `taken` what was taken for what.
 */
export const ImportedCapture = z.object({
  id: z.string(),
  added: z.boolean(),
  differs: z.array(z.enum(['readings', 'lines', 'marks', 'trials', 'setup', 'practice'])).optional(),
  notices: z.array(z.string()).optional(),
  startedAt: z.string().optional(),
  taken: z.string().optional(),
});
export type ImportedCapture = z.infer<typeof ImportedCapture>;

/** What is computed from captures, made of them, or exchanged as files. Long calls: they run in processes of their own. */
export const resultCalls = {
  /** `setup` tries another setup than the capture's own without saving it. */
  'analysis.run': call(z.object({ capture: z.string(), setup: Setup.optional() }), AnalysisDetail),
  /** The next light-off trial, and what those that were made prove. */
  'advice.get': call(z.object({ capture: z.string() }), CaptureAdvice),
  'comparison.run': call(z.object({ before: z.string(), after: z.string() }), ComparisonDetail),

  'report.make': call(
    z.object({ capture: z.string(), before: z.string().optional(), format: z.enum(['html', 'pdf']) }),
    namedBytes,
  ),
  /**
   * A wide CSV (with its setup and trials files), a zip, or the file of another logger with its mapping, which is remembered by the heading
   * of the file. Importing the same capture again adds nothing. `foreign` names files of other loggers that
   * have no mapping, where there are any, with what keeps them from being read as ours.
   */
  'files.import': call(
    z.object({
      files: z
        .array(namedBytes.extend({ mapping: Mapping.optional() }))
        .min(1)
        .max(50),
      burnerId: z.string().optional(),
    }),
    z.object({
      captures: z.array(ImportedCapture),
      foreign: z.array(z.object({ name: z.string(), fault })).optional(),
      problems: z.array(fault),
    }),
  ),
  /** How the file of another logger would be read; without `mapping` by the one that is remembered for its heading, if there is one. */
  'files.preview': call(z.object({ file: namedBytes, mapping: Mapping.optional() }), MappingPreview),
  /** How far the import is that runs now: the file, and the part of it that is stored, 0 to 1; none while it is read, or nothing is imported. */
  'files.progress': feed(nothing, z.object({ file: z.string().optional(), part: z.number().min(0).max(1).optional() })),
  'files.export': call(z.object({ capture: z.string(), format: z.enum(['package', 'csv']) }), namedBytes),
} as const;
