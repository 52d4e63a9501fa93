import { useState } from 'react';
import type { CaptureView, StoredTrial } from '../../../shared/contract/api.ts';
import type { TimeSpan } from '../../../shared/model/sweeps.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';
import { unjudgedTrials } from '../../../shared/model/trials/unjudged-trials.ts';
import { isPurgeShort, judgedTrials, replacedBy, trialSecondsOf } from '../../../shared/model/trials/valid-trials.ts';
import { useHostAction } from '../../state/host-calls.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Notice } from '../../ui/Notice.tsx';
import { AddTrialDialog } from './AddTrialDialog.tsx';
import { UnjudgedTrialDialog } from './UnjudgedTrialDialog.tsx';
import { TrialDialog } from './TrialDialog.tsx';
import { TrialCard, UnjudgedCard } from './TrialCard.tsx';

/** The record of trials, newest first; each can be confirmed, corrected or discarded, and what was wrong stays visible. */
export function TrialList({ capture, unit }: { capture: CaptureView | undefined; unit: PressureUnit }) {
  const confirm = useHostAction('trials.correct');
  const [chosen, setChosen] = useState<StoredTrial>();
  const [unjudgedSpan, setUnjudgedSpan] = useState<TimeSpan>();
  const [isAdding, setAdding] = useState(false);
  if (!capture) return <p>No trials yet.</p>;
  const { trials, setup } = capture;
  const counted = judgedTrials(trials, setup);
  const lit = counted.filter((trial) => trial.lit).length;
  const replaced = replacedBy(trials);
  const unjudged = unjudgedTrials(capture.marks, trials, capture.status === 'recording');
  const confirmSpark = (trial: StoredTrial) =>
    void confirm.run({
      capture: capture.id,
      trial: trial.id,
      changes: { sparkDelayS: 0 },
      reason: 'The technician confirms: spark with the gas',
    });

  return (
    <>
      {trials.length === 0 && unjudged.length === 0 && <p>No trials yet.</p>}
      {trials.length > 0 && (
        <p>
          <span className="figure">{lit}</span> of <span className="figure">{counted.length}</span> lit
        </p>
      )}
      <ol className="trial-list">
        {unjudged.toReversed().map((span) => (
          <UnjudgedCard key={span.fromS} span={span} onJudge={() => setUnjudgedSpan(span)} />
        ))}
        {trials
          .map((trial, i) => ({ trial, number: i + 1, by: trials[(replaced[i] ?? 0) - 1] }))
          // A void entry repeats the facts of the one that it discards.
          .filter(({ by }) => by?.status !== 'void')
          .toReversed()
          .map(({ trial, number, by }) => (
            <TrialCard
              key={trial.id}
              trial={trial}
              number={number}
              replacedBy={by && trials.indexOf(by) + 1}
              unit={unit}
              trialSeconds={trialSecondsOf(setup)}
              isPurgeShort={isPurgeShort(trial, setup)}
              onConfirm={() => confirmSpark(trial)}
              onChange={() => setChosen(trial)}
            />
          ))}
      </ol>
      {confirm.fault && <Notice tone="bad" text={confirm.fault.message} />}
      <div className="row">
        <Button onClick={() => setAdding(true)}>Add a trial by hand</Button>
      </div>
      {chosen && <TrialDialog capture={capture.id} trial={chosen} unit={unit} onClose={() => setChosen(undefined)} />}
      {unjudgedSpan && (
        <UnjudgedTrialDialog
          capture={capture}
          span={unjudgedSpan}
          unit={unit}
          onClose={() => setUnjudgedSpan(undefined)}
        />
      )}
      {isAdding && <AddTrialDialog capture={capture} unit={unit} onClose={() => setAdding(false)} />}
    </>
  );
}
