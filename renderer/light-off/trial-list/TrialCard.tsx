import { visibleText } from '../../../shared/model/visible-text.ts';
import type { StoredTrial } from '../../../shared/contract/api.ts';
import { formatElapsed, formatPressure, formatSeconds, formatSpark } from '../../../shared/model/format.ts';
import type { TimeSpan } from '../../../shared/model/sweeps.ts';
import { convertPressure, type PressureUnit } from '../../../shared/model/units.ts';
import { isLit } from '../../../shared/model/trials/valid-trials.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { StatusWord } from '../../ui/StatusWord.tsx';

/** One entry of the record of trials, by its number there, with what is to be known of it below. */
export function TrialCard({
  trial,
  number,
  replacedBy,
  unit,
  trialSeconds,
  isPurgeShort,
  onConfirm,
  onChange,
}: {
  trial: StoredTrial;
  number: number;
  /** The number of the entry that corrects it; undefined where none does. */
  replacedBy: number | undefined;
  unit: PressureUnit;
  trialSeconds: number;
  isPurgeShort: boolean;
  onConfirm: () => void;
  onChange: () => void;
}) {
  const { sparkDelayS, timeToProveS, status, corrects, reason, note } = trial;
  const isVoid = status === 'void';
  const isOut = replacedBy !== undefined || isVoid;
  const lit = isLit(trial, trialSeconds);
  const result = lit ? 'Lit' : trial.lit ? 'Not lit in time' : 'Not lit';
  const facts = [
    formatPressure(convertPressure(trial.pressure, trial.unit, unit), unit),
    sparkDelayS === undefined ? 'spark not known' : `spark ${formatSpark(sparkDelayS)}`,
    ...(timeToProveS === undefined ? [] : [`proved ${formatSeconds(timeToProveS)} after gas`]),
  ];
  const words = [
    isVoid ? `Discarded: ${reason}` : corrects && `Corrects ${corrects}: ${reason}`,
    !isVoid && !corrects && reason,
    replacedBy !== undefined && `Corrected by ${replacedBy}.`,
    note,
  ]
    .filter((word) => typeof word === 'string')
    .map(visibleText);
  return (
    <li className="trial-card" data-out={isOut}>
      <div className="trial-head">
        <strong className="figure">{number}</strong>
        {isOut ? (
          <s>{result}</s>
        ) : (
          <StatusWord tone={lit ? 'good' : 'bad'} shape={lit ? 'solid-circle' : 'cross'}>
            {result}
          </StatusWord>
        )}
        {!isOut && isPurgeShort && (
          <StatusWord tone="warning" shape="half-circle">
            Short purge
          </StatusWord>
        )}
        {replacedBy === undefined && <Button onClick={onChange}>Correct</Button>}
      </div>
      <p className="trial-facts">
        {facts.map((fact) => (isOut ? <s key={fact}>{fact}</s> : <span key={fact}>{fact}</span>))}
      </p>
      {words.map((word) => (
        <p key={word} className="soft">
          {word}
        </p>
      ))}
      {!isOut && sparkDelayS === undefined && <Button onClick={onConfirm}>Confirm: spark with the gas</Button>}
    </li>
  );
}

/** A trial without a result, cut short or not told by the meters. Until the result is entered it counts for nothing. */
export function UnjudgedCard({ span, onJudge }: { span: TimeSpan; onJudge: () => void }) {
  return (
    <li className="trial-card">
      <div className="trial-head">
        <strong className="figure">?</strong>
        <StatusWord tone="warning" shape="half-circle">
          Not judged
        </StatusWord>
        <Button onClick={onJudge}>Enter or discard</Button>
      </div>
      <p className="trial-facts">Trial at {formatElapsed(span.fromS)}: no result yet</p>
    </li>
  );
}
