import type { CaptureView } from '../../../shared/contract/api.ts';
import type { AnalysisResult } from '../../../shared/model/results/analysis-result.ts';
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
 * @param failure  why the calculation gave no result, as a sentence; undefined where it did, or was stopped
 */
export function visitDoubts(
  capture: CaptureView,
  result: Pick<AnalysisResult, 'asLeft' | 'lightOff' | 'pressureUnit'> | undefined,
  failure?: string,
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
    ...(has('as-left') && !decided ? [undecidedWords(result !== undefined, failure)] : []),
    ...(decided && decided.decision !== 'pass'
      ? [
          `As-left ${formatPressure(decided.value, result.pressureUnit)}: ${decisionLabels[decided.decision]}. ${decisionSentence(decided, result.lightOff)}`,
        ]
      : []),
  ];
}

/** Why there is no decision on the as-left pressure: the readings give none, or nobody has calculated it to the end. */
function undecidedWords(hasResult: boolean, failure: string | undefined): string {
  if (hasResult) return 'There is no decision on the as-left pressure.';
  return `The decision on the as-left pressure was not calculated${failure === undefined ? '.' : `. ${failure}`}`;
}
