import { useEffect, useRef, useState } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import { sparkDelayRefusal } from '../../shared/burner-state/trials/trial.ts';
import { formatNumber, formatSeconds } from '../../shared/model/format.ts';
import { readNumber } from '../state/setup/read-number.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useWorkbench } from '../state/workbench.ts';
import { Button } from '../ui/controls/Button.tsx';
import { FieldFrame } from '../ui/controls/Field.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Shape } from '../ui/Shape.tsx';
import { DelayedSparkDialog } from './DelayedSparkDialog.tsx';

/** When the spark of the next trials comes: stated once for the visit, or a delay announced for the next trial only. */
export function NextSpark({
  capture,
  trialSeconds,
  mayBegin,
}: {
  capture: CaptureView;
  trialSeconds: number;
  /** Nothing is against a trial: only then may a delayed spark be announced. */
  mayBegin: boolean;
}) {
  const state = useHostAction('trials.sparkWithGas');
  const announce = useHostAction('trials.announce');
  const typed = useWorkbench((workbench) => workbench.sparkDelay);
  const change = useWorkbench((workbench) => workbench.change);
  const [isDelayed, setDelayed] = useState(false);
  const [asks, setAsks] = useState(false);
  // What announces it may lie below the view, while above it is asked for.
  const delay = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (isDelayed) delay.current?.scrollIntoView({ block: 'nearest' });
  }, [isDelayed]);
  // Practice: half way through the trial.
  const delayS = readNumber(typed) ?? trialSeconds / 2;
  const problem = delayS > 0 ? sparkDelayRefusal(delayS, trialSeconds)?.message : 'Must be above 0 s.';
  const { announcedSparkS } = capture;
  const stated = capture.setup.sparkWithGas;
  const fault = state.fault ?? announce.fault;
  const run = (sparkDelayS: number | null) => {
    setAsks(false);
    setDelayed(false);
    void announce.run({ capture: capture.id, sparkDelayS });
  };

  if (announcedSparkS !== undefined)
    return (
      <Notice tone="warning" text={`Announced: spark at ${formatSeconds(announcedSparkS)} after gas.`}>
        <Button disabled={announce.busy} onClick={() => run(null)}>
          Take back the delayed spark
        </Button>
      </Notice>
    );
  return (
    <>
      <fieldset className="spark-choice" aria-label="Spark">
        <Button aria-pressed={!isDelayed} onClick={() => setDelayed(false)}>
          Spark with gas
        </Button>
        <Button aria-pressed={isDelayed} onClick={() => setDelayed(true)}>
          Delayed spark
        </Button>
      </fieldset>
      {isDelayed && (
        <div ref={delay} className="stack">
          <FieldFrame
            name="Spark delay"
            help={`Pilot trial time: ${trialSeconds} s. Counts as delayed from ${formatSeconds(trialSeconds / 2)} on`}
            problem={problem}
          >
            {({ input, describedBy }) => (
              <>
                <input
                  id={input}
                  inputMode="decimal"
                  aria-describedby={describedBy}
                  aria-invalid={problem !== undefined}
                  placeholder={formatNumber(trialSeconds / 2, 1)}
                  value={typed}
                  onChange={(event) => change({ sparkDelay: event.target.value })}
                />
                <span className="unit-fixed">s</span>
              </>
            )}
          </FieldFrame>
          <Button disabled={!mayBegin || announce.busy || problem !== undefined} onClick={() => setAsks(true)}>
            Announce delayed spark
          </Button>
          {stated && (
            <Notice
              tone="warning"
              text="Not announced yet: a trial now is recorded with its spark at once, as you said of this control."
            />
          )}
        </div>
      )}
      {!isDelayed && capture.units.ignition !== undefined && <p>The spark is wired: its moment is recorded.</p>}
      {!isDelayed && capture.units.ignition === undefined && (
        <div className="spark-fact">
          <Button
            aria-pressed={stated !== undefined}
            disabled={state.busy}
            onClick={() => void state.run({ capture: capture.id, stated: stated === undefined })}
          >
            <Shape name={stated ? 'check' : 'hollow-circle'} />
            The control sparks with the gas
          </Button>
          <p className="soft">
            {stated ? `Said by ${stated.by}, for this visit.` : 'Say so once, or confirm the spark of each trial.'}
          </p>
        </div>
      )}
      {fault && <Notice tone="bad" text={fault.message} />}
      {asks && (
        <DelayedSparkDialog
          delayS={delayS}
          trialSeconds={trialSeconds}
          onConfirm={() => run(delayS)}
          onClose={() => setAsks(false)}
        />
      )}
    </>
  );
}
