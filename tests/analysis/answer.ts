import { analyze } from '../../shared/analysis/analyze.ts';
import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import type { Capture } from '../../shared/model/capture.ts';
import type { Setup } from '../../shared/model/setup.ts';

/** The answer to a capture, which the analysis must not refuse. */
export function answer(capture: Capture, setup?: Setup): AnalysisDetail {
  const found = analyze(capture, setup);
  if (!found.ok) throw new Error(found.fault.message);
  return found.value;
}

/** The codes of its warnings, in their order. */
export const codesOf = (capture: Capture, setup?: Setup): string[] =>
  answer(capture, setup).result.warnings.map(({ code }) => code);
