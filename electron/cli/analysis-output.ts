import type { AnalysisResult, ComparisonResult, WindowEnd } from '../../shared/model/results/analysis-result.ts';
import { comparedQuantities } from '../../shared/model/results/analysis-result.ts';
import type { Fault } from '../../shared/model/faults.ts';
import {
  formatConfidence,
  formatNumber,
  formatPressure,
  formatPressureChange,
  formatRange,
  formatSeconds,
  formatSignal,
  formatSignalChange,
  guardedNumber,
  signalNumber,
} from '../../shared/model/format.ts';
import type { PressureUnit, SignalUnit } from '../../shared/model/units.ts';
import { lightingWords } from '../../shared/light-off/lighting-words.ts';
import { practiceMark } from '../../shared/model/practice-mark.ts';
import { endIntervalLine } from '../../shared/report/end-interval.ts';
import { excursionLines, flameHysteresisLines, guardedText } from '../../shared/report/flame-events.ts';
import { changeRow } from '../../shared/report/sections/setting-sections.ts';
import { lightOffSentence } from '../../shared/report/sections/trial-section.ts';
import {
  causeLabels,
  decisionLabels,
  limitsInWords,
  marginsOf,
  ruleLabels,
  statusSentence,
} from '../../shared/report/labels.ts';
import { columns } from './output.ts';

/** The fault with the file added to its sentence, where that only says "the capture". */
export const fileFault = (file: string, fault: Fault): Fault =>
  fault.message.includes(file) ? fault : { ...fault, message: `${file}: ${fault.message}` };

/** A file as it is named to people: marked when it is practice. */
export const markedName = (file: string, practice: boolean): string => (practice ? `${practiceMark}: ${file}` : file);

/** `pilot-bench/analysis@1` with its keys in the documented order; what could not be computed is left out. */
export const resultJson = (file: string, result: AnalysisResult, practice: boolean): object => ({
  schema: result.schema,
  file,
  ...(practice && { practice }),
  pressureUnit: result.pressureUnit,
  signalUnit: result.signalUnit,
  readings: result.readings,
  lag_s: result.lag_s,
  plateau: result.plateau,
  requiredSignal: result.requiredSignal,
  signalInterval: result.signalInterval,
  window: result.window,
  setPoint: result.setPoint,
  asLeft: result.asLeft,
  lightOff: result.lightOff,
  hysteresis: result.hysteresis,
  phases: result.phases,
  fanOnlyPressure: result.fanOnlyPressure,
  flameHysteresis: result.flameHysteresis,
  excursions: result.excursions,
  corrections: result.corrections,
  confidence: result.confidence,
  warnings: result.warnings,
  findings: result.findings,
});

/** The result for people: one block per file. */
export function resultText(file: string, result: AnalysisResult): string {
  const { pressureUnit: unit, signalUnit, readings, lag_s: lag, plateau, window, setPoint, asLeft, lightOff } = result;
  const interval = `${formatConfidence(result.confidence)} confidence interval`;
  const inside = (line: string) => line.charAt(0).toLowerCase() + line.slice(1);
  const end = (found: WindowEnd, side: 'low' | 'high') =>
    `${formatPressure(found.value, unit)} (${inside(endIntervalLine(found, unit, result.confidence))}), guarded ${guardedText(found, unit, side)}: ${causeLabels[found.cause]}`;
  const margins = (low: number, high: number) =>
    `margins ${guardedNumber(low, unit, 'down')} below, ${guardedNumber(high, unit, 'down')} above`;
  const left = asLeft && marginsOf(asLeft);
  const rows: (string[] | false | undefined)[] = [
    [
      'Readings',
      `${readings.pressure} of pressure, ${readings.signal} of signal; ${readings.flagged} flagged, ${readings.rejected} rejected as spikes or by their times`,
    ],
    [
      'Lag',
      `${formatSeconds(lag.value, 2)} (${interval}: ${formatRange(formatNumber(lag.ci[0], 2), formatNumber(lag.ci[1], 2))})`,
    ],
    [
      'Plateau',
      `${formatSignal(plateau.value, signalUnit)} (${interval}: ${formatRange(signalNumber(plateau.ci[0], signalUnit), signalNumber(plateau.ci[1], signalUnit))}), required ${formatSignal(result.requiredSignal.value, signalUnit)}`,
    ],
    window.low && ['Low end', end(window.low, 'low')],
    window.high && ['High end', end(window.high, 'high')],
    window.status !== 'bounded' && ['Window', statusSentence(result).text],
    setPoint && [
      'Set point',
      `${formatPressure(setPoint.value, unit)}${setPoint.provisional ? ', provisional' : ''}: ${ruleLabels[setPoint.rule]}; ${margins(setPoint.marginLow, setPoint.marginHigh)}${setPoint.withinMakerRange ? '' : "; OUTSIDE the maker's range"}`,
    ],
    asLeft && [
      'As left',
      `${formatPressure(asLeft.value, unit)}: ${decisionLabels[asLeft.decision].toLowerCase()}${asLeft.limitedBy ? `, limited by ${limitsInWords(asLeft).join(', ')}` : ''}${left ? `; ${margins(left.low, left.high)}` : ''}`,
    ],
    lightOff && ['Light-off', lightOffSentence(lightOff, unit)],
    ...lightingLines(result).map((line) => ['Lighting', line]),
    result.hysteresis && [
      'Shift',
      `${formatPressure(result.hysteresis.pressure, unit)} between turning in and turning out`,
    ],
    result.corrections && ['Correction', correctionText(result.corrections, unit, signalUnit)],
    ...flameHysteresisLines(result).map((line) => ['Flame', line]),
    ...excursionLines(result).map((line) => ['Signal fell', line]),
    ...result.warnings.map((warning) => ['Warning', warning.message]),
    ...result.findings.map((finding) => ['Finding', finding.message]),
  ];
  const table = columns(rows.filter((row) => Array.isArray(row)));
  return [file, ...table.map((row) => `  ${row}`), ''].join('\n');
}

/** What the lighting model says of each side. */
const lightingLines = ({ lightOff, pressureUnit, confidence }: AnalysisResult): string[] =>
  lightOff?.model ? lightingWords(lightOff.model, pressureUnit, confidence) : [];

/** What to add to a reading, in words: the numbers of the result are as displayed. */
const correctionText = (
  { pressure, signal }: NonNullable<AnalysisResult['corrections']>,
  unit: PressureUnit,
  signalUnit: SignalUnit,
): string =>
  `not applied; add ${[
    ...(pressure === undefined ? [] : [`${formatPressureChange(pressure, unit)} to a pressure`]),
    ...(signal === undefined ? [] : [`${formatSignalChange(signal, signalUnit)} to a signal`]),
  ].join(' and ')} as displayed`;

/** A comparison for people: the changes in words and as a table. */
export function comparisonText(before: string, after: string, result: ComparisonResult): string {
  const head = ['', 'unit', 'before', 'after', 'change', `${formatConfidence(result.confidence)} interval`, 'changed'];
  const rows = comparedQuantities.map((quantity) => changeRow(quantity, result));
  return [
    `${before} -> ${after}`,
    ...result.summary.map((sentence) => `  ${sentence}`),
    ...columns([head, ...rows], [2, 3, 4, 5]).map((row) => `  ${row}`),
    ...result.warnings.map((warning) => `  Warning: ${warning.message}`),
    '',
  ].join('\n');
}
