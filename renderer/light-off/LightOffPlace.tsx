import { purgeLeft } from '../../shared/burner-state/purge.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useWorkbench } from '../state/workbench.ts';
import { displayUnits, useCapture } from '../state/current-capture.ts';
import { limitsOf } from '../state/limits.ts';
import { useCaptureNow } from '../state/live/capture-now.ts';
import { useMeters } from '../state/live/meters.ts';
import { useCurrentSetup } from '../state/setup/current-setup.ts';
import { BurnerLine } from '../ui/visit/BurnerLine.tsx';
import { InterruptedActions } from '../ui/visit/InterruptedActions.tsx';
import { isBelowMinimum } from '../ui/visit/live-words.ts';
import { PressurePanel, SignalPanel } from '../ui/visit/LivePanels.tsx';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Caution, Notice } from '../ui/Notice.tsx';
import { AdvicePanel } from './AdvicePanel.tsx';
import { PlanLine } from './PlanLine.tsx';
import { BeginTrial } from './BeginTrial.tsx';
import { LightingPanel, LightingPicture } from './LightingPanel.tsx';
import { RunningTrial } from './RunningTrial.tsx';
import { LateVerdict } from './TrialVerdict.tsx';
import { UnjudgedTrial } from './UnjudgedTrial.tsx';
import { TrialList } from './trial-list/TrialList.tsx';
import './light-off.css';

/** Step 4: light-off trials, with and without a delayed spark. Pilot Bench only reads the meters and keeps time. */
export function LightOffPlace() {
  const capture = useCapture();
  const meters = useMeters();
  const now = useCaptureNow();
  const setup = useCurrentSetup();
  const units = displayUnits(capture, meters);
  const limits = limitsOf(setup, units.pressure, units.signal);
  const end = useHostAction('trials.end');
  const isRecording = capture?.status === 'recording';
  const purgeLeftS = purgeLeft(capture?.purgeUntilS, now);
  const isWeak = isBelowMinimum(meters.signal, units.signal, limits.minimumSignal);

  return (
    <>
      <div className="light-off-head">
        <h1>Light-off</h1>
        <Caution>
          Unburned gas collects when a pilot does not light: purge fully before every trial. Ignition transformers give
          thousands of volts. The burner’s own control runs the trial; follow its maker’s manual.
        </Caution>
      </div>
      <div className="light-off fills">
        <div className="stack light-off-trial">
          {isRecording && capture.runningTrial && (
            <RunningTrial
              key={capture.runningTrial.startedS}
              end={end}
              capture={capture}
              trial={capture.runningTrial}
              limits={limits}
              now={now}
              isBelowMinimum={isWeak}
            />
          )}
          {!capture?.runningTrial && <LateVerdict end={end} />}
          {isRecording && !capture.runningTrial && <UnjudgedTrial capture={capture} unit={units.pressure} />}
          {isRecording && !capture.runningTrial && (
            <BeginTrial capture={capture} limits={limits} purgeLeftS={purgeLeftS} now={now} />
          )}
          {!isRecording && <NotRecording capture={capture} />}
        </div>
        {isRecording && (
          <div className="stack light-off-live">
            <BurnerLine isBelowMinimum={isWeak} />
            <div className="number-pair">
              <PressurePanel latest={meters.pressure} unit={units.pressure} limits={limits} />
              <SignalPanel latest={meters.signal} unit={units.signal} limits={limits} />
            </div>
          </div>
        )}
        {capture && (
          <div className="stack light-off-proof">
            <LightingPicture capture={capture} />
            <AdvicePanel capture={capture} />
            <LightingPanel capture={capture} />
          </div>
        )}
        <Panel name="Trials of this visit" className="light-off-record">
          {capture && <PlanLine capture={capture} />}
          <TrialList capture={capture} unit={units.pressure} />
        </Panel>
      </div>
    </>
  );
}

function NotRecording({ capture }: { capture: CaptureView | undefined }) {
  const go = useWorkbench((state) => state.go);
  if (capture?.status === 'complete')
    return <Notice tone="plain" text="This visit is complete. Its trials are listed here." />;
  if (capture)
    return (
      <Panel name="Interrupted">
        <InterruptedActions capture={capture} />
      </Panel>
    );
  return (
    <Panel name="Not recording">
      <p>Start recording first, so that each trial is stored with the meters’ readings.</p>
      <div className="row">
        <Button kind="main" size="large" onClick={() => go('sweep')}>
          Go to recording
        </Button>
      </div>
    </Panel>
  );
}
