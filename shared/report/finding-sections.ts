import type { AnalysisDetail, AnalysisResult } from '../model/analysis-result.ts';
import type { Capture } from '../model/capture.ts';
import {
  formatConfidence,
  formatElapsed,
  formatLowerBound,
  formatNumber,
  formatPercent,
  formatPressure,
  formatPressureRange,
  formatSeconds,
  formatSignal,
  formatSignalRange,
  noNumber,
  pressureNumber,
  pressureUnitLabel,
} from '../model/format.ts';
import { convertPressure } from '../model/units.ts';
import { sweepChart } from './chart-svg.ts';
import type { Block, Section } from './document.ts';
import { causeLabels, formatSettling, statusSentences } from './labels.ts';

/** The curve and what it says. */
export function sweepSection(capture: Capture, analysis: AnalysisDetail): Section {
  const { result, testedRange } = analysis;
  const { pressureUnit, signalUnit } = result;
  const sure = formatConfidence(result.confidence);
  const basis =
    result.requiredSignal.basis === 'minimum-signal'
      ? 'the least flame signal that is asked for'
      : 'the allowed drop below the plateau';
  const facts = [
    {
      label: 'Tested pressures',
      value: formatPressureRange(testedRange, pressureUnit),
    },
    {
      label: 'Plateau of the signal',
      value: `${formatSignal(result.plateau.value, signalUnit)} (${sure} interval ${formatSignalRange(result.plateau.ci, signalUnit)})`,
    },
    { label: 'Required signal', value: `${formatSignal(result.requiredSignal.value, signalUnit)}, set by ${basis}` },
    {
      label: 'Signal lags the pressure by',
      value: `${formatSeconds(result.lag_s.value, 2)} (${sure} interval ${formatNumber(result.lag_s.ci[0], 2)} to ${formatSeconds(result.lag_s.ci[1], 2)}), taken out`,
    },
  ];
  if (result.hysteresis)
    facts.push({
      label: 'Hysteresis, turning in against out',
      value: formatPressure(result.hysteresis.pressure, pressureUnit),
    });
  const { stepResponse } = analysis.explanation;
  if (stepResponse)
    facts.push({
      label: 'Regulator settles in',
      value: `${formatSettling(stepResponse)}, to within ${formatPercent(stepResponse.band)} of the step; hand and manometer included, so the regulator is no slower`,
    });
  return {
    heading: 'The sweep',
    blocks: [
      {
        kind: 'figure',
        ...sweepChart(analysis, capture.trials, capture.setup),
        caption: 'Flame signal against pilot pressure.',
        alternative: chartDescription(result),
      },
      { kind: 'facts', rows: facts },
    ],
  };
}

/** What the picture shows, for those who cannot see it. */
function chartDescription(result: AnalysisResult): string {
  const unit = result.pressureUnit;
  const { low, high } = result.window;
  const parts = [
    `Flame signal against pilot pressure. Plateau ${formatSignal(result.plateau.value, result.signalUnit)}, required ${formatSignal(result.requiredSignal.value, result.signalUnit)}.`,
    low && high && `Window ${formatPressureRange([low.value, high.value], unit)}.`,
    result.setPoint && `Set point ${formatPressure(result.setPoint.value, unit)}.`,
    result.asLeft && `As left ${formatPressure(result.asLeft.value, unit)}.`,
  ];
  return parts.filter(Boolean).join(' ');
}

/** Each end of the window: which evidence set it, and how sure it is. */
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
        `${pressureNumber(end.ci[0], unit)} to ${pressureNumber(end.ci[1], unit)}`,
        pressureNumber(end.guarded, unit),
        causeLabels[end.cause],
      ],
    ];
  });
  const blocks: Block[] = [{ kind: 'paragraph', text: statusSentences[result.window.status] }];
  if (rows.length > 0) {
    blocks.push(
      {
        kind: 'table',
        columns: [
          { heading: `In ${pressureUnitLabel(unit)}`, align: 'left', share: 16 },
          { heading: 'End', align: 'right', share: 12 },
          { heading: `${formatConfidence(result.confidence)} interval`, align: 'right', share: 20 },
          { heading: 'Guarded', align: 'right', share: 14 },
          { heading: 'Set by', align: 'left', share: 38 },
        ],
        rows,
      },
      {
        kind: 'paragraph',
        text: `How sure: of many sweeps like this one, about ${formatConfidence(result.confidence)} would give an interval that holds the true end. The guarded end is the end moved inwards by its expanded uncertainty (fit and meters, k = 2); margins are counted from there.`,
      },
    );
  }
  const why = (side: 'low' | 'high') =>
    evidence
      .filter((each) => each.side === side)
      .map((each) => `${each.sets ? 'Sets the' : 'Further out on the'} ${side} side: ${each.message}`);
  const items = [...why('low'), ...why('high')];
  if (items.length > 0) blocks.push({ kind: 'list', items });
  return { heading: 'Why each end is where it is', blocks };
}

/** The light-off trials one by one, and what all of them prove together. */
export function trialSection({ trials }: Capture, result: AnalysisResult): Section {
  const unit = result.pressureUnit;
  if (trials.length === 0)
    return {
      heading: 'Light-off trials',
      blocks: [
        {
          kind: 'caution',
          text: 'No light-off trial was recorded. A good flame signal does not prove that the pilot lights at that pressure.',
        },
      ],
    };
  const blocks: Block[] = [];
  if (result.lightOff) blocks.push({ kind: 'paragraph', text: lightOffSentence(result.lightOff) });
  blocks.push({
    kind: 'table',
    columns: [
      { heading: 'No.', align: 'right', share: 8 },
      { heading: 'Time, min:s', align: 'right', share: 16 },
      { heading: `Pressure, ${pressureUnitLabel(unit)}`, align: 'right', share: 22 },
      { heading: 'Spark held back, s', align: 'right', share: 21 },
      { heading: 'Time to prove, s', align: 'right', share: 19 },
      { heading: 'Result', align: 'left', share: 14 },
    ],
    rows: trials.map((trial, i) => [
      String(i + 1),
      trial.elapsedS === undefined ? noNumber : formatElapsed(trial.elapsedS),
      pressureNumber(convertPressure(trial.pressure, trial.unit, unit), unit),
      trial.sparkDelayS === 0 ? 'at once' : formatNumber(trial.sparkDelayS, 1),
      trial.timeToProveS === undefined ? noNumber : formatNumber(trial.timeToProveS, 1),
      trial.lit ? 'lit' : 'NOT LIT',
    ]),
  });
  return { heading: 'Light-off trials', blocks };
}

/** Clopper-Pearson lower bound in a sentence: what n trials prove, and what they do not. */
function lightOffSentence(lightOff: NonNullable<AnalysisResult['lightOff']>): string {
  const { trials, lit, lowerBound, confidence } = lightOff;
  return (
    `${lit} of ${trials} ${trials === 1 ? 'trial' : 'trials'} lit. At ${formatConfidence(confidence)} one-sided confidence that proves a chance of lighting of at least ` +
    `${formatLowerBound(lowerBound)} a trial (Clopper-Pearson), and no more than that.`
  );
}
