import { createHash } from 'node:crypto';
import { analyze } from '../../shared/analysis/analyze.ts';
import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import type { Capture } from '../../shared/model/capture.ts';
import type { Setup } from '../../shared/model/setup.ts';

/** Answers by what was asked: many tests look at the same capture from several sides, and each answer takes most of a second. */
const given = new Map<string, AnalysisDetail>();

/** The answer to a capture, which the analysis must not refuse. What it returns must not be changed. */
export function answer(capture: Capture, setup?: Setup): AnalysisDetail {
  const asked = createHash('sha256')
    .update(JSON.stringify([capture, setup], (_, value: unknown) => (Number.isNaN(value) ? 'NaN' : value)))
    .digest('base64');
  const known = given.get(asked);
  if (known) return known;
  const found = analyze(capture, setup);
  if (!found.ok) throw new Error(found.fault.message);
  given.set(asked, found.value);
  return found.value;
}

/** The codes of its warnings, in their order. */
export const codesOf = (capture: Capture, setup?: Setup): string[] =>
  answer(capture, setup).result.warnings.map(({ code }) => code);
