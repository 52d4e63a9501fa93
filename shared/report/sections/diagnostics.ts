import type { AnalysisDetail, Explanation } from '../../model/results/analysis-result.ts';
import {
  formatConfidence,
  formatDuration,
  formatNumber,
  formatPercent,
  formatSeconds,
  formatSignal,
  formatSignalChange,
  formatSignalRange,
} from '../../model/format.ts';
import type { Section } from '../document.ts';

/** One diagnostic of the analysis: its name, its value and what the value means. */
export interface Diagnostic {
  label: string;
  value: string;
  note: string;
}

/** How the window was found, the most important first; the screen and the report print the same. */
export function diagnostics({ result, explanation }: AnalysisDetail): Diagnostic[] {
  const { signalUnit } = result;
  const { drift, selfCheck } = explanation;
  const excluded = excludedReadings(explanation.leftOut);
  const rows: (Diagnostic | undefined)[] = [
    { label: 'Fitted curve', value: explanation.model, note: explanation.stop },
    {
      label: 'Scatter of the readings',
      value: formatSignal(explanation.residualSd, signalUnit),
      note: 'standard deviation about the curve',
    },
    {
      label: 'Misfit',
      value: formatPercent(explanation.misfit, 1),
      note: 'of the plateau, compared with a free curve that only has to rise and then fall',
    },
    {
      label: 'Effective sample size',
      value: formatNumber(explanation.independent, 0),
      note: `of ${explanation.fitted} readings; neighboring readings are correlated, so together they count for fewer`,
    },
    drift && {
      label: 'Signal drift',
      value: drift.ci[0] * drift.ci[1] > 0 ? formatSignalChange(drift.change, signalUnit) : 'not significant',
      note: `${formatConfidence(drift.confidence)} confidence interval ${formatSignalRange(drift.ci, signalUnit)} over ${formatDuration(drift.overS)}, at the same pressures`,
    },
    selfCheck && {
      label: 'Detector self-check',
      value: `every ${formatSeconds(selfCheck.periodS)}`,
      note: `pulses of ${formatSeconds(selfCheck.widthS)}; ${selfCheck.pulses} of them were left out`,
    },
    excluded,
  ];
  return rows.filter((row) => row !== undefined);
}

const exclusionLabels: Record<keyof Explanation['leftOut'], string> = {
  flagged: 'flagged by the meter',
  spikes: 'isolated spikes',
  wrongTime: 'with times outside the sweep',
  selfCheck: 'during detector self-checks',
  idle: 'before the first gas or after the last',
  gasShut: 'while the gas was shut off',
  relighting: 'while the pilot was being lit',
  unlit: 'while gas flowed unlit',
  meterTrouble: 'while a meter was in trouble',
  dropOut: 'while the signal fell amid good pressures',
  pressureUnknown: 'while the manometer was silent',
};

const reasons = Object.keys(exclusionLabels) as (keyof typeof exclusionLabels)[];

/** How many readings the curve was not fitted to, flagged ones among them: the one number that screen and report give. */
export const leftOutCount = (leftOut: Explanation['leftOut']): number =>
  reasons.reduce((sum, reason) => sum + leftOut[reason], 0);

function excludedReadings(leftOut: Explanation['leftOut']): Diagnostic {
  const applicable = reasons.filter((reason) => leftOut[reason] > 0);
  return {
    label: 'Readings left out',
    value: String(leftOutCount(leftOut)),
    note:
      applicable.map((reason) => `${leftOut[reason]} ${exclusionLabels[reason]}`).join('; ') ||
      'all readings were used',
  };
}

/** The same as a section of the report. */
export const diagnosticsSection = (analysis: AnalysisDetail): Section => ({
  heading: 'How the window was found',
  blocks: [
    {
      kind: 'facts',
      rows: diagnostics(analysis).map(({ label, value, note }) => ({ label, value: `${value} (${note})` })),
    },
  ],
});
