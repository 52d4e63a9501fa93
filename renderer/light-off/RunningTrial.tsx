import { useEffect, useRef, useState } from 'react';
import type { CaptureView, Undecided } from '../../shared/contract/api.ts';
import { trialWords } from '../../shared/burner-state/trials/trial-words.ts';
import { formatSeconds } from '../../shared/model/format.ts';
import type { Limits } from '../state/limits.ts';
import { Notice } from '../ui/Notice.tsx';
import { type EndTrial, TrialVerdict } from './TrialVerdict.tsx';
import { useSteadyBurner } from './use-steady-burner.ts';

const undecidedWords: Record<Undecided, string> = {
  'manometer-failed': 'The manometer failed during this trial.',
  'signal-meter-failed': 'The flame signal meter failed during this trial.',
  'signal-before-gas': 'The flame signal was there before the gas: it does not prove a flame.',
  'spark-like-flame': 'The spark alone gives the signal of a flame: the signal does not prove one.',
  'weaker-than-before':
    'The signal is less than half of what the flame gave at this pressure: it may be that of the spark.',
};

/** The trial that runs: what the burner does and the seconds since gas, large; and the entry of its result. */
export function RunningTrial({
  capture,
  trial,
  limits,
  now,
  isBelowMinimum,
  end,
}: {
  capture: CaptureView;
  trial: NonNullable<CaptureView['runningTrial']>;
  limits: Limits;
  now: number | undefined;
  isBelowMinimum: boolean;
  end: EndTrial;
}) {
  const clock = useRef<HTMLElement>(null);
  // Gas came on without a touch: whatever the page was scrolled to, the trial is what must be seen.
  useEffect(() => {
    // In braces: newer browsers return a promise here, which is no clean-up.
    clock.current?.scrollIntoView({ block: 'nearest' });
  }, []);
  const { gasS, sparkDelayS, undecided, purgeShort } = trial;
  const burner = useSteadyBurner(now, gasS);
  const beganS = gasS ?? trial.startedS;
  const elapsedS = Math.max(0, (now ?? beganS) - beganS);
  const { trialSeconds } = limits;
  const { kind, title, detail } = trialWords({
    elapsedS,
    sparkDelayS,
    trialSeconds,
    sawGas: gasS !== undefined,
    tooEarly: purgeShort !== undefined,
    isBelowMinimum,
    burner,
  });
  // Gas that is shut lets the clock stand at how long it was on, until the trial is entered.
  const isShut = kind === 'shut';
  const [shutS, setShutS] = useState<number>();
  if (isShut !== (shutS !== undefined) && now !== undefined) setShutS(isShut ? now : undefined);
  const shownS = shutS === undefined ? elapsedS : Math.max(0, shutS - beganS);
  const share = (seconds: number) => `${Math.min(100, (100 * seconds) / trialSeconds)}%`;

  return (
    <>
      <section ref={clock} className="trial-clock" data-phase={kind} aria-label="Running trial">
        <strong role="alert">{title}</strong>
        <div className="trial-figures">
          <span>
            <span className="figure" role="timer">
              {formatSeconds(shownS)}
            </span>
            <small>{isShut ? 'gas was on' : gasS === undefined ? 'since begun' : 'since gas'}</small>
          </span>
        </div>
        <div className="clock-bar" aria-hidden="true">
          <span ref={(bar) => void (bar && (bar.style.width = share(shownS)))} />
          {sparkDelayS !== undefined && sparkDelayS > 0 && (
            <i ref={(line) => void (line && (line.style.left = share(sparkDelayS)))} />
          )}
        </div>
        <p>{detail}</p>
      </section>
      {purgeShort && <Notice tone="bad" text={`${purgeShort} Gas came on too early.`} />}
      {undecided && <Notice tone="warning" text={`${undecidedWords[undecided]} Enter the result.`} />}
      <TrialVerdict capture={capture} trial={trial} elapsedS={elapsedS} end={end} />
    </>
  );
}
