import type { CaptureView } from '../../../shared/contract/api.ts';
import type { AnalysisResult } from '../../../shared/model/analysis-result.ts';
import { formatElapsed, formatPressure } from '../../../shared/model/format.ts';
import { sweepsOf } from '../../../shared/model/sweeps.ts';
import { unjudgedTrials } from '../../../shared/model/trials/unjudged-trials.ts';
import { validTrials } from '../../../shared/model/trials/valid-trials.ts';
import { decisionLabels, decisionSentence } from '../../../shared/report/labels.ts';

/**
 * What is to be known before a visit is closed, a sentence each: what was not recorded, trials that nobody has judged, an as-left pressure
 * that does not pass. Empty: nothing is missing.
 *
 * @param result  of the capture as it is now; undefined where there is none
 */
export function visitDoubts(
  capture: CaptureView,
  result: Pick<AnalysisResult, 'asLeft' | 'pressureUnit'> | undefined,
): string[] {
  const { marks, trials } = capture;
  const has = (kind: CaptureView['marks'][number]['kind']) => marks.some((mark) => mark.kind === kind);
  const missing = [
    ...(has('as-found') ? [] : ['as-found']),
    ...(sweepsOf(marks).some(({ isVoid }) => !isVoid) ? [] : ['sweep']),
    ...(validTrials(trials).length > 0 ? [] : ['light-off trials']),
    ...(has('as-left') ? [] : ['as-left']),
  ];
  const unjudged = unjudgedTrials(marks, trials, capture.status === 'recording').map(({ fromS }) =>
    formatElapsed(fromS),
  );
  const decided = result?.asLeft;
  return [
    ...(missing.length > 0 ? [`Not recorded: ${missing.join(', ')}.`] : []),
    ...(unjudged.length === 1
      ? [`Not judged: the trial at ${unjudged[0]}. Enter its result or discard it under Light-off.`]
      : []),
    ...(unjudged.length > 1
      ? [`Not judged: the trials at ${unjudged.join(', ')}. Enter their results or discard them under Light-off.`]
      : []),
    ...(has('as-left') && !decided ? ['There is no decision on the as-left pressure.'] : []),
    ...(decided && decided.decision !== 'pass'
      ? [
          `As-left ${formatPressure(decided.value, result.pressureUnit)}: ${decisionLabels[decided.decision]}. ${decisionSentence(decided)}`,
        ]
      : []),
  ];
}
