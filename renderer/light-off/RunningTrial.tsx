import { useState } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import { trialPhase, type TrialPhase } from '../../shared/burner-state/trials/trial.ts';
import { formatNumber, formatPressure, formatSeconds } from '../../shared/model/format.ts';
import { convertPressure, pressureUnits } from '../../shared/model/units.ts';
import { readNumber } from '../state/setup-fields.ts';
import { useHostAction } from '../state/host-calls.ts';
import type { Limits } from '../state/current-capture.ts';
import { useRecording } from '../state/live/recording.ts';
import { Button } from '../ui/controls/Button.tsx';
import { FieldFrame } from '../ui/controls/Field.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Shape } from '../ui/Shape.tsx';
import { pressureWithGas, timeToProve } from './time-to-prove.ts';

const phaseWords: Record<TrialPhase, string> = {
  'gas-first': 'Gas on, no spark yet',
  'spark-now': 'Spark now',
  spark: 'Gas and spark on',
  over: 'Trial over: gas and spark off',
};

/** The clock of a running trial, and the entry of its result. */
export function RunningTrial({
  capture,
  trial,
  limits,
  now,
}: {
  capture: CaptureView;
  trial: NonNullable<CaptureView['runningTrial']>;
  limits: Limits;
  now: number | undefined;
}) {
  const recording = useRecording();
  const end = useHostAction('trials.end');
  const cancel = useHostAction('trials.cancel');
  const [typed, setTyped] = useState<string>();
  const elapsedS = Math.max(0, (now ?? trial.startedS) - trial.startedS);
  const phase = trialPhase(elapsedS, (trial.sparkDelayS ?? 0), limits.trialSeconds);
  const signal = recording?.buffer.column('flame_signal');
  const proposed =
    signal && limits.minimumSignal !== undefined
      ? timeToProve(signal, trial.startedS, limits.minimumSignal)
      : undefined;
  const unit = pressureUnits.find((one) => one === trial.unit) ?? 'inH2O';
  const storedUnit = pressureUnits.find((one) => one === capture.units.pilot_pressure) ?? unit;
  const seen = recording && pressureWithGas(recording.buffer.column('pilot_pressure'), trial.startedS);
  const withGas = seen && convertPressure(seen, storedUnit, unit);
  const proveText = typed ?? (proposed === undefined ? '' : formatNumber(proposed, 1));
  const proveS = readNumber(proveText);
  const problem =
    proveS === undefined || (proveS >= 0 && proveS <= elapsedS + 1) ? undefined : 'Must be a time within the trial.';
  const answer = (lit: boolean) =>
    void end.run({
      capture: capture.id,
      lit,
      ...(lit && proveS !== undefined && !problem && { timeToProveS: proveS }),
      ...(withGas !== undefined && { pressure: withGas }),
    });
  const share = (seconds: number) => `${Math.min(100, (100 * seconds) / limits.trialSeconds)}%`;

  return (
    <>
      <div className="trial-clock" data-phase={phase}>
        <strong role="alert">{phaseWords[phase]}</strong>
        <span className="figure" role="timer">
          {formatSeconds(elapsedS)}
        </span>
        <div className="clock-bar" aria-hidden="true">
          <span ref={(bar) => void (bar && (bar.style.width = share(elapsedS)))} />
          {(trial.sparkDelayS ?? 0) > 0 && <i ref={(line) => void (line && (line.style.left = share((trial.sparkDelayS ?? 0))))} />}
        </div>
        <p>
          {(trial.sparkDelayS ?? 0) > 0 ? `Spark at ${formatSeconds((trial.sparkDelayS ?? 0))}. ` : ''}Trial ends at{' '}
          {formatSeconds(limits.trialSeconds)}.{' '}
          {withGas !== undefined && `Pressure with gas on: ${formatPressure(withGas, unit)}.`}
        </p>
      </div>
      <div className="answers">
        <Button kind="main" size="large" disabled={end.busy || problem !== undefined} onClick={() => answer(true)}>
          <Shape name="solid-circle" />
          Lit
        </Button>
        <Button kind="stop" size="large" disabled={end.busy} onClick={() => answer(false)}>
          <Shape name="cross" />
          Did not light
        </Button>
      </div>
      <div className="answers">
        <FieldFrame
          name="Time to prove"
          help={
            proposed === undefined
              ? 'From gas on, as the control shows it'
              : 'From gas on until the signal reached the minimum'
          }
          problem={problem}
        >
          {({ input, describedBy }) => (
            <>
              <input
                id={input}
                inputMode="decimal"
                aria-describedby={describedBy}
                aria-invalid={problem !== undefined}
                value={proveText}
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
      {(end.fault ?? cancel.fault) && <Notice tone="bad" text={(end.fault ?? cancel.fault)!.message} />}
    </>
  );
}
