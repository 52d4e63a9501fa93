import { useEffect, useState } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import { readNumber } from '../state/setup/read-number.ts';
import { useHostAction } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Dialog } from '../ui/controls/Dialog.tsx';
import { FieldFrame } from '../ui/controls/Field.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Shape } from '../ui/Shape.tsx';

/** The call that ends a trial; it is kept when the trial is over, so that its answer is not lost with the buttons. */
export type EndTrial = ReturnType<typeof useHostAction<'trials.end'>>;

/** The result of a running trial as the technician enters it: needed only where the meters cannot tell. */
export function TrialVerdict({
  capture,
  trial,
  elapsedS,
  end,
}: {
  capture: CaptureView;
  trial: NonNullable<CaptureView['runningTrial']>;
  elapsedS: number;
  end: EndTrial;
}) {
  const cancel = useHostAction('trials.cancel');
  const [typed, setTyped] = useState('');
  const [lit, setLit] = useState(false);
  const byMeters = trial.gasS !== undefined && trial.undecided === undefined;
  // What was answered on the trial before is no word on this one.
  const { clear } = end;
  useEffect(() => clear(), [clear]);
  const proveS = readNumber(typed);
  const problem =
    proveS === undefined || (proveS >= 0 && proveS <= elapsedS + 1) ? undefined : 'Must be a time within the trial.';
  const answer = (verdict: boolean, confirmed?: true) => {
    setLit(verdict);
    void end.run({
      capture: capture.id,
      lit: verdict,
      startedS: trial.startedS,
      ...(verdict && !byMeters && proveS !== undefined && !problem && { timeToProveS: proveS }),
      ...(confirmed && { confirmed }),
    });
  };
  const isQuestioned = end.fault?.code === 'verdict-contradicts-meters';
  const fault = isQuestioned ? cancel.fault : (end.fault ?? cancel.fault);
  const size = byMeters ? 'normal' : 'large';

  return (
    <>
      {byMeters && <p>The meters record this trial.{!trial.purgeShort && ' No touch is needed.'}</p>}
      <div className="answers">
        <Button
          kind={byMeters ? 'plain' : 'main'}
          size={size}
          disabled={end.busy || problem !== undefined}
          onClick={() => answer(true)}
        >
          <Shape name="solid-circle" />
          Lit
        </Button>
        <Button kind={byMeters ? 'plain' : 'stop'} size={size} disabled={end.busy} onClick={() => answer(false)}>
          <Shape name="cross" />
          Did not light
        </Button>
      </div>
      {!byMeters && (
        <div className="answers">
          <FieldFrame name="Time to prove" help="From gas on, as the control shows it" problem={problem}>
            {({ input, describedBy }) => (
              <>
                <input
                  id={input}
                  inputMode="decimal"
                  aria-describedby={describedBy}
                  aria-invalid={problem !== undefined}
                  value={typed}
                  onChange={(event) => setTyped(event.target.value)}
                />
                <span className="unit-fixed">s</span>
              </>
            )}
          </FieldFrame>
          <Button disabled={cancel.busy} onClick={() => void cancel.run({ capture: capture.id })}>
            Discard this trial
          </Button>
        </div>
      )}
      {fault && <Notice tone="bad" text={fault.message} />}
      {isQuestioned && (
        <Dialog name={`"${lit ? 'Lit' : 'Did not light'}": are you sure?`} onClose={end.clear}>
          <p>{end.fault?.message}</p>
          <div className="row">
            <Button size="large" onClick={end.clear}>
              Back
            </Button>
            <Button kind="stop" size="large" onClick={() => answer(lit, true)}>
              Confirm: {lit ? 'Lit' : 'Did not light'}
            </Button>
          </div>
        </Dialog>
      )}
    </>
  );
}

/** An answer that came when the trial was over: it was not taken, and the record says what was. */
export function LateVerdict({ end }: { end: EndTrial }) {
  const { fault } = end;
  if (!fault) return null;
  const text =
    fault.code === 'verdict-contradicts-meters'
      ? 'Your answer was not taken: the trial was over before it was confirmed. Look at its entry in the list, and correct it there if it is wrong.'
      : fault.message;
  return (
    <Notice tone="warning" text={text}>
      <div className="row">
        <Button onClick={end.clear}>OK</Button>
      </div>
    </Notice>
  );
}
