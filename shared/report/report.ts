import { fail, ok, type Outcome } from '../model/outcome.ts';
import type { AnalysisDetail } from '../model/results/analysis-result.ts';
import type { ProofDocument } from './document.ts';
import { recordWithoutWindow } from './proof-without-window.ts';
import { proofDocument } from './proof.ts';

/**
 * The report of a visit: the proof of its settings, or, where its readings give no window but light-off trials are on record, the record of
 * those.
 *
 * @param analysis  of `capture` with its own setup
 * Fails with the analysis's fault where there is neither.
 */
export function reportOf(
  given: Omit<Parameters<typeof proofDocument>[0], 'analysis'> & { analysis: Outcome<AnalysisDetail> },
): Outcome<ProofDocument> {
  const { analysis, capture } = given;
  if (analysis.ok) return ok(proofDocument({ ...given, analysis: analysis.value }));
  return capture.trials.length > 0 ? ok(recordWithoutWindow(capture, analysis.fault, given)) : fail(analysis.fault);
}
