import { useState } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import { purgeMissing } from '../../shared/burner-state/purge-clock.ts';
import { sparkDelayRefusal } from '../../shared/burner-state/trial.ts';
import { formatNumber } from '../../shared/model/format.ts';
import { readNumber } from '../state/setup-fields.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useWorkbench } from '../state/workbench.ts';
import type { Limits } from '../state/current-capture.ts';
import { useBurnerState } from '../state/live/burner-state.ts';
import { Button } from '../ui/controls/Button.tsx';
import { FieldFrame } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Announce, Notice } from '../ui/Notice.tsx';
import { DelayedSparkDialog } from './DelayedSparkDialog.tsx';
import { PurgeClock } from './PurgeClock.tsx';

/** The purge, and then the next trial: spark with the gas, or delayed. */
export function BeginTrial({
  capture,
  limits,
  purgeLeftS,
}: {
  capture: CaptureView;
  limits: Limits;
  purgeLeftS: number;
}) {
  const begin = useHostAction('trials.begin');
  const typedDelay = useWorkbench((state) => state.sparkDelay);
  const change = useWorkbench((state) => state.change);
  const [isHeldBack, setHeldBack] = useState(false);
  const [asks, setAsks] = useState(false);
  // Practice: half way through the trial.
  const delay = readNumber(typedDelay) ?? limits.trialSeconds / 2;
  const problem = delay > 0 ? sparkDelayRefusal(delay, limits.trialSeconds)?.message : 'Must be above 0 s.';
  const burner = useBurnerState();
  // What the meters show outweighs the time since the last trial; without them that time is all there is.
  const leftS = burner?.purge.needed ? purgeMissing(burner.purge, burner.purge.wantedS) : purgeLeftS;
  const isPurging = leftS > 0;
  const run = (sparkDelayS: number) => {
    setAsks(false);
    void begin.run({ capture: capture.id, sparkDelayS });
  };

  return (
    <>
      {burner?.purge.needed ? (
        <PurgeClock burner={burner} />
      ) : (
        isPurging && <WaitClock leftS={purgeLeftS} ofS={limits.purgeSeconds} />
      )}
      <Announce text={isPurging ? `Purge, ${limits.purgeSeconds} seconds` : 'Ready for the next trial'} />
      <Panel name="Next trial, at the present regulator setting">
        <fieldset className="spark-choice" aria-label="Spark">
          <Button aria-pressed={!isHeldBack} onClick={() => setHeldBack(false)}>
            Spark with gas
          </Button>
          <Button aria-pressed={isHeldBack} onClick={() => setHeldBack(true)}>
            Delayed spark
          </Button>
        </fieldset>
        {isHeldBack && (
          <FieldFrame name="Spark delay" help={`Pilot trial time: ${limits.trialSeconds} s`} problem={problem}>
            {({ input, describedBy }) => (
              <>
                <input
                  id={input}
                  inputMode="decimal"
                  aria-describedby={describedBy}
                  aria-invalid={problem !== undefined}
                  placeholder={formatNumber(limits.trialSeconds / 2, 1)}
                  value={typedDelay}
                  onChange={(event) => change({ sparkDelay: event.target.value })}
                />
                <span className="unit-fixed">s</span>
              </>
            )}
          </FieldFrame>
        )}
        <p>Press when the control opens the pilot valve: the clock starts at that moment.</p>
        {begin.fault && <Notice tone="bad" text={begin.fault.message} />}
        <Button
          kind="main"
          size="large"
          disabled={isPurging || begin.busy || (isHeldBack && problem !== undefined)}
          onClick={() => (isHeldBack ? setAsks(true) : run(0))}
        >
          {isPurging ? `Purge: ${Math.ceil(leftS)} s left` : 'Begin trial'}
        </Button>
      </Panel>
      {asks && <DelayedSparkDialog delayS={delay} onBegin={() => run(delay)} onClose={() => setAsks(false)} />}
    </>
  );
}

/** The time since the last trial, where no meter shows more. */
function WaitClock({ leftS, ofS }: { leftS: number; ofS: number }) {
  return (
    <div className="trial-clock" data-phase="purge">
      <strong>Purge</strong>
      <span className="figure">{Math.ceil(leftS)} s</span>
      <div className="clock-bar" aria-hidden="true">
        <span ref={(bar) => void (bar && (bar.style.width = `${100 * (1 - leftS / ofS)}%`))} />
      </div>
      <p>The next trial can begin when the purge is over.</p>
    </div>
  );
}
