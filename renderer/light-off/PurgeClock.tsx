import { isShutAndDark } from '../../shared/burner-state/purge-clock.ts';
import { waitWords } from '../../shared/burner-state/trials/readiness.ts';
import { gasOnWords } from '../../shared/burner-state/trials/trial-words.ts';
import type { BurnerView } from '../../shared/contract/api.ts';
import { useHostAction } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Shape } from '../ui/Shape.tsx';

/** Seconds since gas was last on: a purge as far as air is known to move, else only a wait. And what would make it one. */
export function PurgeClock({ burner, lastLit }: { burner: BurnerView; lastLit: boolean | undefined }) {
  const confirm = useHostAction('burner.air');
  const { purgedS, waitedS, wantedS } = burner.purge;
  const { shown, confirmed } = burner.air;
  const moves = shown ?? confirmed;
  const isDark = isShutAndDark(burner);
  const runs = moves && isDark;
  const leftS = Math.max(0, wantedS - purgedS);
  if (burner.gas !== 'shut' || burner.alarm) return <GasOn burner={burner} lastLit={lastLit} />;
  if (burner.purge.mayHaveBurned && isDark) return <IsGasOff />;
  return (
    <div className="trial-clock" data-phase="purge">
      {/* The figure is what is left of the purge, whether it runs or not: what counts up would be read as seconds that are left. */}
      <strong>{leftS === 0 ? 'Purge done' : runs ? 'Purge' : 'Purge: not running'}</strong>
      {leftS > 0 && (
        <>
          <span className="figure">{Math.ceil(leftS)} s</span>
          <div className="clock-bar" aria-hidden="true">
            <span ref={(bar) => void (bar && (bar.style.width = `${Math.min(100, (100 * purgedS) / wantedS)}%`))} />
          </div>
        </>
      )}
      {leftS > 0 && (
        <p>
          {runs
            ? 'The next trial can begin when the purge is over.'
            : isDark
              ? waitWords(waitedS, burner.air)
              : 'It counts only while the flame signal is dark.'}
        </p>
      )}
      {shown === undefined && (
        <>
          {!confirmed && leftS > 0 && <p>This counts as purge only while the fan moves air through the furnace.</p>}
          {/* What was confirmed is taken back by words of its own: who presses once more to make sure must not end the purge. */}
          {confirmed && (
            <p>
              <Shape name="check" /> Fan is running, as confirmed.
            </p>
          )}
          <Button disabled={confirm.busy} onClick={() => void confirm.run({ confirmed: !confirmed })}>
            {confirmed ? 'Fan has stopped' : 'Fan is running'}
          </Button>
        </>
      )}
      {confirm.fault && <Notice tone="bad" text={confirm.fault.message} />}
    </div>
  );
}

/** No meter shows whether gas is off: the technician looks, and says so. */
function IsGasOff() {
  const gasOff = useHostAction('burner.gasOff');
  return (
    <div className="trial-clock" data-phase="unknown">
      <strong role="alert">Gas off? Hose on?</strong>
      <p>
        A signal like the pilot’s flame came and went, and the manometer showed no gas. With its hose off it would show
        the same. Look at both: once gas is off and the hose is on, the purge counts.
      </p>
      <Button size="large" disabled={gasOff.busy} onClick={() => void gasOff.run({})}>
        Gas is off, hose is on
      </Button>
      {gasOff.fault && <Notice tone="bad" text={gasOff.fault.message} />}
    </div>
  );
}

/** Gas is on, or was not seen shut: what to do before anything else. */
export function GasOn({ burner, lastLit }: { burner: BurnerView; lastLit: boolean | undefined }) {
  const { kind, title, detail } = gasOnWords(burner, lastLit);
  return (
    <div className="trial-clock" data-phase={kind}>
      <strong role={kind === 'danger' ? 'alert' : undefined}>{title}</strong>
      <p>{detail}</p>
    </div>
  );
}
