import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import {
  formatConfidence,
  formatLowerBound,
  formatNumber,
  formatPressure,
  formatSeconds,
  lagWords,
  formatSignal,
  formatSignalRange,
} from '../../shared/model/format.ts';
import type { Setup } from '../../shared/model/setup.ts';
import { formatSettling, statusSentence } from '../../shared/report/labels.ts';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { excursionLines, flameHysteresisLines } from '../../shared/report/flame-events.ts';
import { HowFound } from './HowFound.tsx';
import { requiredSignalRows } from './required-signal.ts';

/** The other results of the analysis, and its warnings. */
export function Findings({ analysis, setup }: { analysis: AnalysisDetail; setup: Setup }) {
  const { result, explanation } = analysis;
  const { pressureUnit, signalUnit, lightOff, readings } = result;
  const status = statusSentence(result);
  const interval = `${formatConfidence(result.confidence)} interval`;
  const rows: [string, string][] = [
    ...requiredSignalRows(result, setup),
    ['Plateau', formatSignal(result.plateau.value, signalUnit)],
    [`Plateau, ${interval}`, formatSignalRange(result.plateau.ci, signalUnit)],
    ['Signal lag', `${lagWords(result.lag_s.value)} the pressure`],
    [`Signal lag, ${interval}`, `${formatNumber(result.lag_s.ci[0], 1)} to ${formatSeconds(result.lag_s.ci[1])}`],
  ];
  if (result.hysteresis)
    rows.push(['Shift between turning in and turning out', formatPressure(result.hysteresis.pressure, pressureUnit)]);
  rows.push(
    ...flameHysteresisLines(result).map((line): [string, string] => ['Flame lost and back', line]),
    ...excursionLines(result).map((line): [string, string] => ['Signal fell below the required', line]),
  );
  if (explanation.manometerLagS !== undefined)
    rows.push(['Manometer lag, taken out', `about ${formatSeconds(explanation.manometerLagS)}`]);
  if (explanation.stepResponse) rows.push(['Regulator settling time', formatSettling(explanation.stepResponse)]);
  if (lightOff)
    rows.push(
      ['Trials lit', `${lightOff.lit} of ${lightOff.trials}`],
      [
        `Chance of lighting, ${formatConfidence(lightOff.confidence)} confidence`,
        `at least ${formatLowerBound(lightOff.lowerBound)}`,
      ],
    );
  rows.push(['Pressure readings', String(readings.pressure)], ['Signal readings', String(readings.signal)]);
  return (
    <>
      <Notice tone={status.isGood ? 'good' : 'warning'} text={status.text} />
      {result.warnings.map((warning) => (
        <Notice key={warning.code + warning.message} tone="warning" text={warning.message} />
      ))}
      {result.findings.length > 0 && (
        <Panel name="Also found">
          <ul className="bullets">
            {result.findings.map((finding) => (
              <li key={finding.code + finding.message}>{finding.message}</li>
            ))}
          </ul>
        </Panel>
      )}
      <Panel name="Results">
        <dl className="facts">
          {rows.map(([name, value], i) => (
            <div key={i}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      </Panel>
      <HowFound analysis={analysis} />
    </>
  );
}
