import type { AnalysisDetail, AnalysisResult } from '../../model/results/analysis-result.ts';
import type { Capture } from '../../model/capture.ts';
import {
  formatConfidence,
  formatNumber,
  formatPercent,
  formatPressure,
  formatPressureRange,
  formatRange,
  formatSeconds,
  lagWords,
  formatSignal,
  formatSignalRange,
  pressureNumber,
  pressureUnitLabel,
} from '../../model/format.ts';
import { judgedTrials } from '../../model/trials/valid-trials.ts';
import { sweepChart } from '../charts/sweep-chart.ts';
import type { Block, Section } from '../document.ts';
import { requiredSignalRows } from '../required-signal.ts';
import { endInterval } from '../end-interval.ts';
import { excursionLines, flameHysteresisLines, guardedText } from '../flame-events.ts';
import { sweepTable } from './sweep-table.ts';
import { causeLabels, formatSettling, statusSentence } from '../labels.ts';

/** The sweep: chart, plateau, required signal, lag. */
export function sweepSection(capture: Capture, analysis: AnalysisDetail): Section {
  const { result, testedRange } = analysis;
  const { pressureUnit, signalUnit } = result;
  const interval = `${formatConfidence(result.confidence)} confidence interval`;
  const facts = [
    { label: 'Tested pressures', value: formatPressureRange(testedRange, pressureUnit) },
    {
      label: 'Signal plateau',
      value: `${formatSignal(result.plateau.value, signalUnit)} (${interval} ${formatSignalRange(result.plateau.ci, signalUnit)})`,
    },
    ...requiredSignalRows(result, capture.setup),
    {
      label: 'Signal lag',
      value: `${lagWords(result.lag_s.value, 2)} the pressure (${interval} ${formatRange(formatNumber(result.lag_s.ci[0], 2), formatNumber(result.lag_s.ci[1], 2))} s); removed from the curve`,
    },
  ];
  if (result.hysteresis)
    facts.push({
      label: 'Shift between turning in and turning out',
      value: formatPressure(result.hysteresis.pressure, pressureUnit),
    });
  facts.push(
    ...flameHysteresisLines(result).map((value) => ({ label: 'Flame lost and back', value })),
    ...excursionLines(result).map((value) => ({ label: 'Signal fell below the required', value })),
  );
  const { manometerLagS, stepResponse } = analysis.explanation;
  if (manometerLagS !== undefined)
    facts.push({
      label: 'Manometer lag',
      value: `about ${formatSeconds(manometerLagS)}, as the turns of the hand show; removed from the pressures`,
    });
  if (stepResponse)
    facts.push({
      label: 'Regulator settling time',
      value: `${formatSettling(stepResponse)}, to stay within ${formatPercent(stepResponse.band)} of the step. Turning time and manometer lag are included, so the regulator itself is no slower.`,
    });
  return {
    heading: 'Sweep',
    blocks: [
      {
        kind: 'figure',
        ...sweepChart(analysis, judgedTrials(capture.trials, capture.setup), capture.setup),
        caption: 'Flame signal versus pilot pressure.',
        alternative: chartDescription(result),
      },
      ...sweepTable(capture, pressureUnit),
      { kind: 'facts', rows: facts },
    ],
  };
}

/** Text alternative of the chart. */
function chartDescription(result: AnalysisResult): string {
  const unit = result.pressureUnit;
  const { low, high } = result.window;
  const parts = [
    `Flame signal versus pilot pressure. Plateau ${formatSignal(result.plateau.value, result.signalUnit)}, required ${formatSignal(result.requiredSignal.value, result.signalUnit)}.`,
    low && high && `Window ${formatPressureRange([low.value, high.value], unit)}.`,
    result.setPoint && `Set point ${formatPressure(result.setPoint.value, unit)}.`,
    result.asLeft && `As left ${formatPressure(result.asLeft.value, unit)}.`,
  ];
  return parts.filter(Boolean).join(' ');
}

/** Each end of the window: which evidence sets it, and its confidence interval. */
export function endsSection(analysis: AnalysisDetail): Section {
  const { result, evidence } = analysis;
  const unit = result.pressureUnit;
  const rows = (['low', 'high'] as const).flatMap((side) => {
    const end = result.window[side];
    if (!end) return [];
    return [
      [
        side === 'low' ? 'Low end' : 'High end',
        pressureNumber(end.value, unit),
        endInterval(end, unit),
        guardedText(end, unit, side),
        causeLabels[end.cause],
      ],
    ];
  });
  const blocks: Block[] = [{ kind: 'paragraph', text: statusSentence(result).text }];
  if (rows.length > 0) {
    blocks.push(
      {
        kind: 'table',
        columns: [
          { heading: 'End', align: 'left', share: 12 },
          { heading: `Pressure, ${pressureUnitLabel(unit)}`, align: 'right', share: 20 },
          { heading: `${formatConfidence(result.confidence)} interval`, align: 'right', share: 17 },
          { heading: 'Guarded', align: 'right', share: 13 },
          { heading: 'Set by', align: 'left', share: 38 },
        ],
        rows,
      },
      {
        kind: 'paragraph',
        text: `Of many sweeps like this one, about ${formatConfidence(result.confidence)} would give an interval that contains the true end. The guarded end is the end moved inward by its expanded uncertainty (fit and meters, k = 2); margins are measured from the guarded ends.`,
      },
    );
  }
  const reasons = (side: 'low' | 'high') =>
    evidence
      .filter((each) => each.side === side)
      .sort((a, b) => Number(b.sets) - Number(a.sets))
      .map((each) => `${each.sets ? `Sets the ${side} end` : `Farther out on the ${side} side`}: ${each.message}`);
  const items = [...reasons('low'), ...reasons('high')];
  if (items.length > 0) blocks.push({ kind: 'list', items });
  return { heading: 'What sets each end', blocks };
}
