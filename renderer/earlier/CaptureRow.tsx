import { visibleText } from '../../shared/model/visible-text.ts';
import type { CaptureSummary } from '../../shared/contract/api.ts';
import { formatDuration, formatStart } from '../../shared/model/format.ts';
import { useWorkbench } from '../state/workbench.ts';
import { Button } from '../ui/controls/Button.tsx';
import type { ShapeName } from '../ui/Shape.tsx';
import { StatusWord, type Tone } from '../ui/StatusWord.tsx';

const statuses: Record<CaptureSummary['status'], { word: string; tone: Tone; shape: ShapeName }> = {
  recording: { word: 'Recording', tone: 'bad', shape: 'solid-square' },
  interrupted: { word: 'Interrupted', tone: 'warning', shape: 'half-circle' },
  complete: { word: 'Complete', tone: 'good', shape: 'check' },
};

/** One capture of the list with the actions on it. */
export function CaptureRow({
  capture,
  index,
  measureRow,
  onOpen,
  onContinue,
  onComplete,
}: {
  capture: CaptureSummary;
  /** Its place in the list, from 0. */
  index: number;
  measureRow: (row: HTMLTableRowElement | null) => void;
  onOpen: () => void;
  onContinue: () => void;
  onComplete: () => void;
}) {
  const captureId = useWorkbench((state) => state.captureId);
  const earlierId = useWorkbench((state) => state.earlierId);
  const change = useWorkbench((state) => state.change);
  const { word, tone, shape } = statuses[capture.status];
  const name = visibleText(capture.burner?.name ?? 'Unnamed burner');
  const isCurrent = capture.id === captureId;
  const [day, time] = formatStart(capture, 'not stated')
    .replace(/:\d\d \(.*\)$/u, '')
    .split(' ');
  const what = `${name}, ${formatStart(capture, 'date not stated')}`;
  const compareWith = () => {
    change({ earlierId: capture.id });
    document.getElementById('place')?.scrollTo(0, 0);
  };
  return (
    <tr
      ref={measureRow}
      data-index={index}
      aria-rowindex={index + 2}
      aria-current={isCurrent}
      data-open={capture.status === 'interrupted'}
    >
      <td>
        <strong>{name}</strong> {capture.practice && <span className="practice-mark">PRACTICE</span>}
        <div className="soft">{visibleText(capture.burner?.site ?? capture.id.slice(0, 8))}</div>
      </td>
      <td>
        <span className="nowrap">{day}</span> {time}
      </td>
      <td className="figure length">{formatDuration(capture.durationS)}</td>
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
            <Button aria-label={`Open ${what}`} onClick={onOpen}>
              Open
            </Button>
          )}
          {captureId !== undefined && !isCurrent && (
            <Button aria-label={`Compare with ${what}`} aria-pressed={earlierId === capture.id} onClick={compareWith}>
              Compare
            </Button>
          )}
          {capture.status === 'interrupted' && (
            <>
              {capture.recordedHere && (
                <Button aria-label={`Continue recording ${what}`} onClick={onContinue}>
                  Continue
                </Button>
              )}
              <Button aria-label={`Complete ${what} as it is`} onClick={onComplete}>
                Complete
              </Button>
            </>
          )}
        </div>
      </td>
    </tr>
  );
}
