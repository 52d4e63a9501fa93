import { useState } from 'react';
import { createPortal } from 'react-dom';
import { shownSeconds } from '../../shared/burner-state/unlit-time.ts';
import type { BurnerView } from '../../shared/contract/api.ts';
import { formatDuration, formatSeconds } from '../../shared/model/format.ts';
import { alarmWordsOf } from '../../shared/report/mark-words.ts';
import { useConnection } from '../state/connection.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useBurnerState } from '../state/live/burner-state.ts';
import { Button } from '../ui/controls/Button.tsx';
import { useFrontDialog } from '../ui/controls/Dialog.tsx';
import { Shape } from '../ui/Shape.tsx';
import { useAlarmSound } from './alarm-sound.ts';
import './AlarmBanner.css';

/**
 * What can hurt people right now, across the whole width and with a sound, at every step. It stays until gas is shut; one that a recording
 * was cut off with, until the technician confirms that.
 */
export function AlarmBanner() {
  const alarm = useBurnerState()?.alarm;
  if (!alarm) return null;
  const { kind, count, interrupted } = alarm;
  // By what the host tells alarms apart, too.
  return <Alarm key={`${kind} ${count} ${interrupted}`} alarm={alarm} />;
}

/** One alarm, in front of every dialog. It lasts as long as the alarm does: another one, muted or not before, sounds again. */
function Alarm({ alarm }: { alarm: NonNullable<BurnerView['alarm']> }) {
  const [muted, setMuted] = useState(false);
  const gasOff = useHostAction('burner.gasOff');
  const isLost = useConnection() === 'lost';
  const dialog = useFrontDialog();
  useAlarmSound(!muted);
  const { heading, rest } = alarmWordsOf(alarm.message);
  const banner = (
    <div className="alarm-banner" role="alert">
      <Shape name="triangle" size={72} />
      <div className="alarm-words">
        <strong>{heading}</strong>
        <span className="alarm-action">Gas off. Full purge.</span>
        {/* Whoever has shut the gas, and still hears it, has read the rest: what to do about it must be read from the burner. */}
        {alarm.toEnd ? <span className="alarm-end">{alarm.toEnd}</span> : <small>{rest}</small>}
        {gasOff.fault && <small>{gasOff.fault.message}</small>}
      </div>
      <span className="figure alarm-time">
        {alarm.isLeast && <small>at least</small>}
        {alarm.interrupted ? formatDuration(alarm.forS) : formatSeconds(shownSeconds(alarm.forS), 0)}
        {alarm.longestS !== undefined && <small>perhaps {formatSeconds(shownSeconds(alarm.longestS), 0)}</small>}
      </span>
      {alarm.mayConfirm && (
        <Button size="large" disabled={gasOff.busy || isLost} onClick={() => void gasOff.run({})}>
          {alarm.interrupted ? 'Gas is off, purged' : 'Gas is off, hose is on'}
        </Button>
      )}
      <Button size="large" aria-pressed={muted} onClick={() => setMuted(!muted)}>
        {muted ? 'Sound on' : 'Mute'}
      </Button>
    </div>
  );
  return dialog ? createPortal(banner, dialog) : banner;
}
