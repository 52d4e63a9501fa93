import type { MeterState } from '../../shared/contract/api.ts';
import { formatNumber, noNumber } from '../../shared/model/format.ts';
import { isNetworkPort } from '../../shared/model/ports/network-port.ts';
import { roleLabels } from '../../shared/report/labels.ts';
import { useHostAction } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Numeral } from '../ui/Numeral.tsx';
import { Panel } from '../ui/Panel.tsx';
import { flagWords } from '../ui/flag-words.ts';
import { Announce, Notice } from '../ui/Notice.tsx';
import type { ShapeName } from '../ui/Shape.tsx';
import { StatusWord, type Tone } from '../ui/StatusWord.tsx';
import { isStaleReading } from '../state/live/latest-readings.ts';
import { useBurnerState } from '../state/live/burner-state.ts';
import { meterProblem } from '../ui/visit/live-words.ts';
import { NetworkMark } from './PortRow.tsx';
import { readingText } from './reading-text.ts';
import { editorState } from './profile/draft/use-draft.ts';

const statuses: Record<MeterState['status'], { word: string; tone: Tone; shape: ShapeName }> = {
  opening: { word: 'Opening', tone: 'plain', shape: 'hollow-circle' },
  waiting: { word: 'Waiting for its first line', tone: 'plain', shape: 'hollow-circle' },
  live: { word: 'Live', tone: 'good', shape: 'check' },
  silent: { word: 'Silent', tone: 'warning', shape: 'half-circle' },
  unreadable: { word: 'Unreadable', tone: 'bad', shape: 'cross' },
  lost: { word: 'Port lost', tone: 'bad', shape: 'cross' },
};

/** Whether the fault is one that listening can solve, by finding the baud rate or the profile. */
const canListenHelp = (meter: MeterState): boolean =>
  meter.fault?.code === 'meter-garbled' || meter.fault?.code === 'meter-unreadable';

/**
 * One connected meter: its readings, its last lines as received, and its status. `onListen` is called once it has been
 * disconnected so that its port can be listened to.
 */
export function MeterCard({ meter, onListen }: { meter: MeterState; onListen: () => void }) {
  const disconnect = useHostAction('meters.disconnect');
  const status = statuses[meter.status];
  const burner = useBurnerState();
  const troubles = { pilot_pressure: burner?.pressureTrouble, flame_signal: burner?.signalTrouble };
  return (
    <Panel name={meter.profile}>
      <div className="row">
        <StatusWord tone={status.tone} shape={status.shape}>
          {status.word}
        </StatusWord>
        {isNetworkPort(meter.port) && <NetworkMark />}
        <Announce text={`${meter.profile}: ${status.word}`} />
        <span className="soft">
          {meter.port}, {formatNumber(meter.linesPerSecond, 1)} lines per second
        </span>
      </div>
      {meter.fault && (
        <Notice tone="bad" text={meter.fault.message}>
          {canListenHelp(meter) && (
            <Button
              kind="main"
              size="large"
              disabled={disconnect.busy}
              onClick={() => void disconnect.run({ port: meter.port }).then((done) => done && onListen())}
            >
              Disconnect and listen
            </Button>
          )}
        </Notice>
      )}
      <div className="row">
        {meter.latest.map((latest) => {
          const { text, unit } = readingText(latest);
          const isStale = isStaleReading(meter, latest);
          // The line is live, and what comes over it may still show nothing.
          const trouble = troubles[latest.role as keyof typeof troubles];
          const problem = meterProblem({ ...latest, flag: undefined, port: meter.port, stale: isStale }, trouble);
          return (
            <Numeral
              key={latest.role}
              name={roleLabels[latest.role]}
              value={isStale ? noNumber : latest.flag ? flagWords[latest.flag] : text}
              unit={unit}
              size="large"
              stale={isStale}
            >
              {problem && <StatusWord tone={problem.tone}>{problem.word}</StatusWord>}
            </Numeral>
          );
        })}
      </div>
      <div className="stack">
        <span className="soft">Last lines received</span>
        <pre className="meter-lines">{meter.recentLines.slice(-5).join('\n')}</pre>
      </div>
      {disconnect.fault && <Notice tone="bad" text={disconnect.fault.message} />}
      <div className="row">
        <Button onClick={() => void disconnect.run({ port: meter.port })}>Disconnect</Button>
        {meter.status === 'unreadable' && (
          <Button onClick={() => editorState().open(meter.port)}>Teach from these lines</Button>
        )}
      </div>
    </Panel>
  );
}
