import type { AnalysisDetail } from '../../shared/model/analysis-result.ts';
import {
  formatConfidence,
  formatNumber,
  formatPercent,
  formatPressure,
  formatSeconds,
  formatSignal,
  formatSignalSpan,
} from '../../shared/model/format.ts';
import { settlingWords, statusWords } from '../../shared/report/words.ts';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { HowFound } from './HowFound.tsx';

/** The other results of the analysis, and its warnings. */
export function Findings({ analysis }: { analysis: AnalysisDetail }) {
  const { result, explanation } = analysis;
  const { pressureUnit, signalUnit, lightOff, readings } = result;
  const rows: [string, string][] = [
    ['Signal asked for', formatSignal(result.requiredSignal.value, signalUnit)],
    ['Plateau', formatSignal(result.plateau.value, signalUnit)],
    ['its interval', formatSignalSpan(result.plateau.ci, signalUnit)],
    ['Lag of the signal', formatSeconds(result.lag_s.value)],
    ['its interval', `${formatNumber(result.lag_s.ci[0], 1)} to ${formatSeconds(result.lag_s.ci[1])}`],
    ...(result.hysteresis
      ? ([['Out against in', formatPressure(result.hysteresis.pressure, pressureUnit)]] as [string, string][])
      : []),
    ...(explanation.stepResponse
      ? ([['Regulator settles in', settlingWords(explanation.stepResponse)]] as [string, string][])
      : []),
    ...(lightOff
      ? ([
          ['Trials lit', `${lightOff.lit} of ${lightOff.trials}`],
          [`proves at ${formatConfidence(lightOff.confidence)}`, `at least ${formatPercent(lightOff.lowerBound)}`],
        ] as [string, string][])
      : []),
    ['Readings, p and s', `${readings.pressure}, ${readings.signal}`],
  ];
  return (
    <>
      <Notice tone={result.window.status === 'bounded' ? 'good' : 'warning'} text={statusWords[result.window.status]} />
      {result.warnings.map((warning) => (
        <Notice key={warning.code + warning.message} tone="warning" text={warning.message} />
      ))}
      <Panel name="Found">
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
