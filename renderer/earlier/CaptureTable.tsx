import type { CaptureSummary } from '../../shared/contract/api.ts';
import { formatDuration, formatWallTime } from '../../shared/model/format.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useWorkbench } from '../state/workbench.ts';
import { useOpenCapture } from '../state/open-capture.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Notice } from '../ui/Notice.tsx';
import { StatusWord, type Tone } from '../ui/StatusWord.tsx';
import type { ShapeName } from '../ui/Shape.tsx';

const statuses: Record<CaptureSummary['status'], { word: string; tone: Tone; shape: ShapeName }> = {
  recording: { word: 'Recording', tone: 'bad', shape: 'solid-square' },
  interrupted: { word: 'Interrupted', tone: 'warning', shape: 'half-circle' },
  complete: { word: 'Complete', tone: 'good', shape: 'check' },
};

/** Every capture of the store, newest first, with the actions on it. */
export function CaptureTable({ captures }: { captures: readonly CaptureSummary[] }) {
  const captureId = useWorkbench((state) => state.captureId);
  const earlierId = useWorkbench((state) => state.earlierId);
  const change = useWorkbench((state) => state.change);
  const { open, continueRecording, fault } = useOpenCapture();
  const finish = useHostAction('captures.finish', ['captures.list']);
  if (captures.length === 0) return <p>No captures yet. Record one, or import a file.</p>;
  const newestFirst = captures.toSorted((a, b) => Date.parse(b.startedAt) - Date.parse(a.startedAt));
  const compareWith = (id: string) => {
    change({ earlierId: id });
    document.getElementById('place')?.scrollTo(0, 0);
  };
  const shownFault = fault ?? finish.fault;
  return (
    <div className="capture-table">
      {shownFault && <Notice tone="bad" text={shownFault.message} />}
      <table>
        <thead>
          <tr>
            <th>Burner</th>
            <th>Date</th>
            <th className="figure">Length</th>
            <th className="figure trials">Trials</th>
            <th>Status</th>
            <th>
              <span className="visually-hidden">Actions</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {newestFirst.map((capture) => {
            const { word, tone, shape } = statuses[capture.status];
            const name = capture.burner?.name ?? 'Unnamed burner';
            const isCurrent = capture.id === captureId;
            const [day, time] = formatWallTime(capture.startedAt)
              .replace(/:\d\d \(.*\)$/u, '')
              .split(' ');
            const what = `${name}, ${formatWallTime(capture.startedAt)}`;
            return (
              <tr key={capture.id} aria-current={isCurrent} data-open={capture.status === 'interrupted'}>
                <td>
                  <strong>{name}</strong> {capture.practice && <span className="practice-mark">PRACTICE</span>}
                  <div className="soft">{capture.burner?.site ?? capture.id.slice(0, 8)}</div>
                </td>
                <td>
                  <span className="nowrap">{day}</span> {time}
                </td>
                <td className="figure">{formatDuration(capture.durationS)}</td>
                <td className="figure trials">{capture.trials}</td>
                <td>
                  <StatusWord tone={tone} shape={shape}>
                    {word}
                  </StatusWord>
                </td>
                <td>
                  <div className="row">
                    {isCurrent ? (
                      <strong>Open now</strong>
                    ) : (
                      <Button aria-label={`Open ${what}`} onClick={() => void open(capture.id)}>
                        Open
                      </Button>
                    )}
                    {captureId !== undefined && !isCurrent && (
                      <Button
                        aria-label={`Compare with ${what}`}
                        aria-pressed={earlierId === capture.id}
                        onClick={() => compareWith(capture.id)}
                      >
                        Compare
                      </Button>
                    )}
                    {capture.status === 'interrupted' && (
                      <>
                        {capture.recordedHere && (
                          <Button
                            aria-label={`Continue recording ${what}`}
                            onClick={() => void continueRecording(capture.id)}
                          >
                            Continue
                          </Button>
                        )}
                        <Button
                          aria-label={`Complete ${what} as it is`}
                          onClick={() => void finish.run({ capture: capture.id, interrupted: true })}
                        >
                          Complete
                        </Button>
                      </>
                    )}
                  </div>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
