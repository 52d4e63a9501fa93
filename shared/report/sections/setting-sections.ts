import type { AnalysisDetail, ComparisonDetail, ComparedQuantity } from '../../model/results/analysis-result.ts';
import { comparedQuantities } from '../../model/results/analysis-result.ts';
import type { Capture } from '../../model/capture.ts';
import {
  formatConfidence,
  formatElapsed,
  formatMargin,
  formatPressure,
  formatPressureRange,
  noNumber,
  withSign,
} from '../../model/format.ts';
import { comparisonChart } from '../charts/comparison-chart.ts';
import type { Block, Section } from '../document.ts';
import { quantityFormat } from '../quantity-format.ts';
import {
  decisionLabels,
  decisionSentence,
  marginsOf,
  decisionSentences,
  formatProbability,
  quantityLabels,
  reasonForProvisional,
  ruleLabels,
} from '../labels.ts';

export function setPointSection({ result }: AnalysisDetail, { setup }: Capture): Section {
  const unit = result.pressureUnit;
  const { setPoint } = result;
  if (!setPoint)
    return {
      heading: 'Set point',
      blocks: [{ kind: 'caution', text: 'No set point can be given from this sweep. The warnings give the reasons.' }],
    };
  const range = setup.makerPressureRange;
  const blocks: Block[] = [
    {
      kind: 'facts',
      rows: [
        { label: 'Set point', value: formatPressure(setPoint.value, unit) },
        { label: 'Rule', value: ruleLabels[setPoint.rule] },
        { label: 'Margin to the guarded low end', value: formatMargin(setPoint.marginLow, unit) },
        { label: 'Margin to the guarded high end', value: formatMargin(setPoint.marginHigh, unit) },
        {
          label: "Inside the maker's range",
          value: range ? (setPoint.withinMakerRange ? 'yes' : 'NO') : 'no range stated',
        },
      ],
    },
  ];
  if (setPoint.provisional)
    blocks.push({
      kind: 'caution',
      text: ['Provisional: the best setting may be elsewhere.', reasonForProvisional(result)].filter(Boolean).join(' '),
    });
  if (range && !setPoint.withinMakerRange)
    blocks.push({
      kind: 'caution',
      text: `The set point is outside the maker's range (${formatPressureRange([range.low, range.high], range.unit)}). The maker's range takes precedence.`,
    });
  return { heading: 'Set point', blocks };
}

export function asLeftSection({ result, conformance }: AnalysisDetail, capture: Capture): Section {
  const unit = result.pressureUnit;
  const { asLeft } = result;
  const marked = capture.marks
    .filter((mark) => mark.kind === 'as-left')
    .map((mark) => `Recorded at ${formatElapsed(mark.elapsedS)}: ${mark.text || 'no readings noted'}`);
  const blocks: Block[] = [];
  if (asLeft) {
    const bracketed = (['low', 'high'] as const).filter((side) => result.window[side]?.cause === 'light-off');
    const margins = marginsOf(asLeft);
    blocks.push({
      kind: 'facts',
      rows: [
        { label: 'As left', value: formatPressure(asLeft.value, unit) },
        ...(margins
          ? [
              { label: 'Margin to the guarded low end', value: formatMargin(margins.low, unit) },
              { label: 'Margin to the guarded high end', value: formatMargin(margins.high, unit) },
            ]
          : []),
        {
          label: 'Decision (ILAC-G8:09/2019)',
          value: `${decisionLabels[asLeft.decision]}. ${decisionSentence(asLeft, result.lightOff)}`,
        },
        ...(conformance
          ? [
              {
                label: 'Probability of being in the window',
                value: `${formatProbability(conformance.probability)} (JCGM 106:2012), from the uncertainty of both ends`,
              },
            ]
          : bracketed.length > 0
            ? [
                {
                  label: 'Probability of being in the window',
                  value: `None: ${bracketed.length > 1 ? 'both ends are brackets' : `the ${bracketed[0]} end is a bracket`} of two trials, which gives no probability`,
                },
              ]
            : []),
      ],
    });
    if (result.window.status !== 'bounded' && margins)
      blocks.push({
        kind: 'paragraph',
        text: 'The decision considers only the ends that were found or tested; where an end was not reached, its position is unknown.',
      });
  } else if (capture.setup.asLeftPressure)
    blocks.push(
      {
        kind: 'facts',
        rows: [
          {
            label: 'As left',
            value: formatPressure(capture.setup.asLeftPressure.value, capture.setup.asLeftPressure.unit),
          },
        ],
      },
      { kind: 'caution', text: 'There is no window of good pressures, so nothing is decided about this setting.' },
    );
  else blocks.push({ kind: 'paragraph', text: 'No as-left pressure was recorded.' });
  if (marked.length > 0) blocks.push({ kind: 'list', items: marked });
  return { heading: 'As left', blocks };
}

export function comparisonSection(comparison: ComparisonDetail): Section {
  const { result } = comparison;
  const blocks: Block[] = [
    { kind: 'list', items: result.summary },
    {
      kind: 'figure',
      ...comparisonChart(comparison),
      caption: 'The earlier sweep (dashed) and this one (solid).',
      alternative: `The steady-state curves of both sweeps. ${result.summary.join(' ')}`,
    },
    {
      kind: 'table',
      columns: [
        { heading: 'Quantity', align: 'left', share: 23 },
        { heading: 'Unit', align: 'left', share: 10 },
        { heading: 'Before', align: 'right', share: 12 },
        { heading: 'Now', align: 'right', share: 12 },
        { heading: 'Change', align: 'right', share: 12 },
        { heading: `${formatConfidence(result.confidence)} interval`, align: 'right', share: 18 },
        { heading: 'Significant', align: 'left', share: 13 },
      ],
      rows: comparedQuantities.map((quantity) => changeRow(quantity, result)),
    },
  ];
  if (result.oldSetPoint)
    blocks.push({
      kind: 'paragraph',
      text: `In the signal window of this sweep, whatever its light-off trials say, the earlier setting of ${formatPressure(result.oldSetPoint.value, result.pressureUnit)} has a margin of ${formatMargin(result.oldSetPoint.marginLow, result.pressureUnit)} to the guarded low end and ${formatMargin(result.oldSetPoint.marginHigh, result.pressureUnit)} to the guarded high end. ${decisionLabels[result.oldSetPoint.decision]}: ${lowerFirst(decisionSentences[result.oldSetPoint.decision])}`,
    });
  for (const warning of result.warnings) blocks.push({ kind: 'caution', text: warning.message });
  return { heading: 'Comparison with the earlier sweep', blocks };
}

const lowerFirst = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

/** One row: name, unit, before, after, change with sign, interval, whether the change is significant. */
export function changeRow(quantity: ComparedQuantity, result: ComparisonDetail['result']): string[] {
  const { before, after, change, ci, significant } = result[quantity];
  const { unit, print } = quantityFormat(quantity, result);
  const text = (value: number | null) => (value === null ? noNumber : print(value));
  return [
    quantityLabels[quantity],
    unit,
    text(before),
    text(after),
    change === null ? noNumber : withSign(change, print(change)),
    ci === null ? noNumber : `${withSign(ci[0], print(ci[0]))} to ${withSign(ci[1], print(ci[1]))}`,
    change === null ? 'unknown' : significant ? 'YES' : 'no',
  ];
}
