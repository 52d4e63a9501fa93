import { useState } from 'react';
import type { CaptureView, StoredTrial } from '../../shared/contract/api.ts';
import { formatNumber, pressureNumber, pressureUnitLabel } from '../../shared/model/format.ts';
import { convertPressure, type PressureUnit } from '../../shared/model/units.ts';
import { isLit, judgedTrials, replacedBy, trialSecondsOf } from '../../shared/model/valid-trials.ts';
import { useHostAction } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Notice } from '../ui/Notice.tsx';
import { StatusWord } from '../ui/StatusWord.tsx';
import { AddTrialDialog } from './AddTrialDialog.tsx';
import { TrialDialog } from './TrialDialog.tsx';

/** The record of trials, newest first; each can be confirmed, corrected or discarded, and what was wrong stays visible. */
export function TrialList({ capture, unit }: { capture: CaptureView | undefined; unit: PressureUnit }) {
  const confirm = useHostAction('trials.correct');
  const [chosen, setChosen] = useState<StoredTrial>();
  const [isAdding, setAdding] = useState(false);
  const trials = capture?.trials ?? [];
  const counted = judgedTrials(trials, capture?.setup ?? {});
  const lit = counted.filter((trial) => trial.lit).length;
  const replaced = replacedBy(trials);
  const confirmSpark = (trial: StoredTrial) =>
    capture &&
    void confirm.run({
      capture: capture.id,
      trial: trial.id,
      changes: { sparkDelayS: 0 },
      reason: 'The technician confirms: spark with the gas',
    });

  return (
    <>
      {trials.length === 0 ? (
        <p>No trials yet.</p>
      ) : (
        <>
          <p>
            <span className="figure">{lit}</span> of <span className="figure">{counted.length}</span> lit
          </p>
          <table className="trial-table">
            <thead>
              <tr>
                <th className="figure">Pressure ({pressureUnitLabel(unit)})</th>
                <th className="figure">Spark&nbsp;(s)</th>
                <th>Result</th>
                <th className="figure">Proved&nbsp;(s)</th>
                <th aria-label="Change" />
              </tr>
            </thead>
            {trials
              .map((trial, i) => ({ trial, by: trials[(replaced[i] ?? 0) - 1] }))
              // A void entry repeats the facts of the one that it discards.
              .filter(({ by }) => by?.status !== 'void')
              .toReversed()
              .map(({ trial, by }) => (
                <TrialRow
                  key={trial.id}
                  trial={trial}
                  isReplaced={by !== undefined}
                  unit={unit}
                  trialSeconds={trialSecondsOf(capture?.setup ?? {})}
                  onConfirm={() => confirmSpark(trial)}
                  onChange={() => setChosen(trial)}
                />
              ))}
          </table>
          <p className="soft">Spark and proof of flame are counted from gas on.</p>
        </>
      )}
      {confirm.fault && <Notice tone="bad" text={confirm.fault.message} />}
      {capture && <Button onClick={() => setAdding(true)}>Add a trial by hand</Button>}
      {capture && chosen && (
        <TrialDialog capture={capture.id} trial={chosen} unit={unit} onClose={() => setChosen(undefined)} />
      )}
      {capture && isAdding && <AddTrialDialog capture={capture} unit={unit} onClose={() => setAdding(false)} />}
    </>
  );
}

/** One entry, with what is to be known of it below. */
function TrialRow({
  trial,
  isReplaced,
  unit,
  trialSeconds,
  onConfirm,
  onChange,
}: {
  trial: StoredTrial;
  isReplaced: boolean;
  unit: PressureUnit;
  trialSeconds: number;
  onConfirm: () => void;
  onChange: () => void;
}) {
  const { sparkDelayS, timeToProveS, status, corrects, reason, note } = trial;
  const isVoid = status === 'void';
  const isOut = isReplaced || isVoid;
  const lit = isLit(trial, trialSeconds);
  const result = lit ? 'Lit' : trial.lit ? 'Not lit in time' : 'Not lit';
  const words = [
    isReplaced ? 'Corrected, see above.' : isVoid ? `Discarded: ${reason}` : corrects && `Correction: ${reason}`,
    !isVoid && !corrects && reason,
    note,
  ].filter(Boolean);
  return (
    <tbody data-out={isOut}>
      <tr>
        <td className="figure">{pressureNumber(convertPressure(trial.pressure, trial.unit, unit), unit)}</td>
        <td className="figure">{sparkDelayS === undefined ? 'Unknown' : formatNumber(sparkDelayS, 1)}</td>
        <td>
          {isOut ? (
            result
          ) : (
            <StatusWord tone={lit ? 'good' : 'bad'} shape={lit ? 'solid-circle' : 'cross'}>
              {result}
            </StatusWord>
          )}
        </td>
        <td className="figure">{timeToProveS === undefined ? '' : formatNumber(timeToProveS, 1)}</td>
        <td>{!isReplaced && <Button onClick={onChange}>Correct</Button>}</td>
      </tr>
      {!isOut && sparkDelayS === undefined && (
        <tr>
          <td colSpan={5}>
            <Button onClick={onConfirm}>Confirm: spark with the gas</Button>
          </td>
        </tr>
      )}
      {words.length > 0 && (
        <tr className="trial-words">
          <td colSpan={5}>{words.join(' ')}</td>
        </tr>
      )}
    </tbody>
  );
}
