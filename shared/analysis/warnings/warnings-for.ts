import type { AnalysisResult, AnalysisWarning } from '../../model/results/analysis-result.ts';
import type { LightOffProof } from '../light-off-proof.ts';
import type { Study } from '../study.ts';
import { fanOnlyReadWarnings, fanOnlyWarnings } from './fan-only-warnings.ts';
import { leakWarnings } from './leak-warnings.ts';
import { makerRangeWarnings } from './maker-range-warnings.ts';
import { dataWarnings } from './reading-warnings.ts';
import { scatterWarnings, signalFellWarnings } from './signal-fell.ts';
import { proofWarnings, trialWarnings } from './trial-warnings.ts';
import { evidenceWarnings, windowWarnings } from './window-warnings.ts';
import { zeroShiftWarnings } from './zero-shift.ts';

/** Everything a technician should know before trusting the result, the most serious first. */
export function warningsFor(
  study: Study,
  setPoint: AnalysisResult['setPoint'],
  proof: LightOffProof,
): AnalysisWarning[] {
  const leak = leakWarnings(study);
  return [
    ...evidenceWarnings(study),
    ...windowWarnings(study, setPoint),
    ...signalFellWarnings(study),
    ...scatterWarnings(study),
    // What may be a leak is said once, with the manometer's zero as the other cause.
    ...(leak.length > 0 ? leak : zeroShiftWarnings(study)),
    ...trialWarnings(study),
    ...proofWarnings(study, proof),
    ...fanOnlyReadWarnings(study),
    ...fanOnlyWarnings(study, setPoint),
    ...makerRangeWarnings(study, setPoint),
    ...dataWarnings(study),
  ];
}
