import type { AnalysisDetail, Explanation } from '../model/analysis-result.ts';
import {
  formatConfidence,
  formatDuration,
  formatNumber,
  formatPercent,
  formatSeconds,
  formatSignal,
  formatSignalChange,
  formatSignalRange,
} from '../model/format.ts';
import type { Section } from './document.ts';

/** One thing that stands behind the answer: a name, a number or a few words, and what that means. */
export interface Diagnostic {
  label: string;
  value: string;
  note: string;
}

/** How the answer was found, most telling first; the screen and the report print the same. */
export function diagnostics({ result, explanation }: AnalysisDetail): Diagnostic[] {
  const { signalUnit } = result;
  const { drift, selfCheck } = explanation;
  const left = excludedReadings(explanation.leftOut);
  const rows: (Diagnostic | undefined)[] = [
    { label: 'Curve', value: explanation.model, note: explanation.stop },
    {
      label: 'Readings scatter by',
      value: formatSignal(explanation.residualSd, signalUnit),
      note: 'about the curve, as a standard deviation',
    },
    {
      label: 'Off a free curve by',
      value: formatPercent(explanation.misfit, 1),
      note: 'of the plateau; the free curve need only rise, then fall',
    },
    {
      label: 'Independent readings',
      value: formatNumber(explanation.independent, 0),
      note: `of ${explanation.fitted}; neighbours are alike, so they count for fewer`,
    },
    drift && {
      label: 'Drift of the signal',
      value: drift.ci[0] * drift.ci[1] > 0 ? formatSignalChange(drift.change, signalUnit) : 'none beyond chance',
      note: `${formatConfidence(drift.confidence)} interval ${formatSignalRange(drift.ci, signalUnit)} in ${formatDuration(drift.overS)}, at the same pressures`,
    },
    selfCheck && {
      label: 'Detector tests itself every',
      value: formatSeconds(selfCheck.periodS),
      note: `for ${formatSeconds(selfCheck.widthS)}; ${selfCheck.pulses} pulses were left out`,
    },
    left,
  ];
  return rows.filter((row) => row !== undefined);
}

const exclusionLabels: Record<keyof Explanation['leftOut'], string> = {
  flagged: 'that the meter flagged',
  spikes: 'that jumped away and straight back',
  wrongTime: 'with a time outside the sweep',
  selfCheck: "inside the detector's self-check",
  gasShut: 'while the gas was shut',
  pressureUnknown: 'while the manometer was silent',
};

function excludedReadings(leftOut: Explanation['leftOut']): Diagnostic {
  const reasons = Object.keys(exclusionLabels) as (keyof typeof exclusionLabels)[];
  const said = reasons.filter((reason) => leftOut[reason] > 0);
  return {
    label: 'Readings left out',
    value: String(reasons.reduce((sum, reason) => sum + leftOut[reason], 0)),
    note: said.map((reason) => `${leftOut[reason]} ${exclusionLabels[reason]}`).join('; ') || 'every reading was used',
  };
}

/** The same for the report. */
export const diagnosticsSection = (analysis: AnalysisDetail): Section => ({
  heading: 'How this was found',
  blocks: [
    {
      kind: 'facts',
      rows: diagnostics(analysis).map(({ label, value, note }) => ({ label, value: `${value} (${note})` })),
    },
  ],
});
