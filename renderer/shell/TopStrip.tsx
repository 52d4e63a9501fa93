import { useEffect, useState } from 'react';
import { visibleText } from '../../shared/model/visible-text.ts';
import type { BurnerView, CaptureView } from '../../shared/contract/api.ts';
import {
  formatDuration,
  pressureNumber,
  pressureUnitLabel,
  signalNumber,
  signalUnitLabel,
} from '../../shared/model/format.ts';
import { useWorkbench } from '../state/workbench.ts';
import type { useMeters } from '../state/live/meters.ts';
import { useConnection } from '../state/connection.ts';
import { localSeconds, useRecording } from '../state/live/recording.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Announce } from '../ui/Notice.tsx';
import { Shape, type ShapeName } from '../ui/Shape.tsx';
import { nextStep, type VisitProgress } from '../state/visit-steps.ts';
import { meterProblem } from '../ui/visit/live-words.ts';

/** The burner, the next thing to do, the meters' readings, and whether they are being recorded: in view at every step. */
export function TopStrip({
  progress,
  meters,
  hasAlarm = false,
}: {
  progress: VisitProgress;
  meters: ReturnType<typeof useMeters>;
  hasAlarm?: boolean;
}) {
  const place = useWorkbench((state) => state.place);
  const typed = useWorkbench((state) => state.burner);
  const go = useWorkbench((state) => state.go);
  const { capture } = progress;
  const burner = capture?.burner ?? typed;
  const next = nextStep(progress);
  // Under an alarm there is one thing to do, and it stands above; without the host nobody knows what is next.
  const isLost = useConnection() === 'lost';
  const isShown = next && !hasAlarm && !isLost;
  // These steps show the same numbers large.
  const showsNumbers = place !== 'sweep' && place !== 'set' && place !== 'light-off';
  return (
    <header className="strip">
      <div className="strip-burner">
        <strong>{visibleText(burner.name || 'Burner not named')}</strong>
        <span className="soft">
          {capture?.practice && <span className="practice-mark">PRACTICE</span>}{' '}
          {visibleText(burner.site || (burner.name ? '' : 'Pilot Bench'))}
        </span>
      </div>
      <div className="strip-next">
        {/* Where it is done, the place has its own button. */}
        {isShown && next.place === place && <strong>{next.label}</strong>}
        {isShown && next.place !== place && (
          <Button onClick={() => go(next.place)} aria-label={`Next: ${next.label}`}>
            <Shape name="right" size={18} />
            <span>{next.label}</span>
          </Button>
        )}
      </div>
      {showsNumbers && <SmallNumbers meters={meters} burner={progress.burner} />}
      <RecordingTag capture={capture} />
    </header>
  );
}

/** Both readings; above one that is not of now, or shows no gas, stands why. */
export function SmallNumbers({
  meters: { pressure, signal },
  burner,
}: {
  meters: Pick<ReturnType<typeof useMeters>, 'pressure' | 'signal'>;
  burner: BurnerView | undefined;
}) {
  if (!pressure && !signal) return null;
  const noPressure = meterProblem(pressure, burner?.pressureTrouble);
  const noSignal = meterProblem(signal, burner?.signalTrouble);
  return (
    <div className="strip-live">
      {pressure && (
        <span>
          <small>{noPressure?.word ?? `Pressure, ${pressureUnitLabel(pressure.unit)}`}</small>
          {pressureNumber(noPressure?.isBlank ? Number.NaN : pressure.value, pressure.unit)}
        </span>
      )}
      {signal && (
        <span>
          <small>{noSignal?.word ?? `Signal, ${signalUnitLabel(signal.unit)}`}</small>
          {signalNumber(noSignal?.isBlank ? Number.NaN : signal.value, signal.unit)}
        </span>
      )}
    </div>
  );
}

const tags: Record<CaptureView['status'] | 'none' | 'lost', { shape: ShapeName; word: string }> = {
  none: { shape: 'hollow-square', word: 'Not recording' },
  recording: { shape: 'solid-square', word: 'Recording' },
  interrupted: { shape: 'half-circle', word: 'Interrupted' },
  complete: { shape: 'check', word: 'Complete' },
  lost: { shape: 'cross', word: 'Connection lost' },
};

function RecordingTag({ capture }: { capture: CaptureView | undefined }) {
  const isLost = useConnection() === 'lost';
  const status = isLost ? 'lost' : (capture?.status ?? 'none');
  const { shape, word } = tags[status];
  return (
    <div className="recording-tag" data-status={status}>
      <Shape name={shape} size={22} />
      <span>{word}</span>
      {capture && !isLost && (
        <span className="figure">
          {status === 'recording' ? <Running startedAt={capture.startedAt} /> : formatDuration(capture.durationS)}
        </span>
      )}
      <Announce text={word} />
    </div>
  );
}

/** Length of the recording so far, by its own clock. */
function Running({ startedAt }: { startedAt: string }) {
  const recording = useRecording();
  const [elapsed, setElapsed] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => {
      // Before its first reading there is no estimate of the capture's own clock.
      const sinceStart = (Date.now() - Date.parse(startedAt)) / 1000;
      setElapsed(recording?.clock.at(localSeconds()) ?? sinceStart);
    }, 250);
    return () => clearInterval(timer);
  }, [recording, startedAt]);
  const whole = Math.max(0, Math.floor(elapsed));
  const two = (n: number) => String(n).padStart(2, '0');
  return `${Math.floor(whole / 3600)}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}`;
}
