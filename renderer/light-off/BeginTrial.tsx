import type { CaptureView } from '../../shared/contract/api.ts';
import { purgeMissing } from '../../shared/burner-state/purge-clock.ts';
import { isGasOn } from '../../shared/model/burner-words.ts';
import {
  isBeforeFirstTrial,
  isReady,
  isUnannounced,
  isUnpurged,
  purgeWords,
  readyWords,
  seesWithoutGas,
  trialProblem,
} from '../../shared/burner-state/trials/readiness.ts';
import { mustShutGas } from '../../shared/burner-state/trials/trial-words.ts';
import { isSweeping } from '../../shared/model/sweeps.ts';
import { unjudgedTrials } from '../../shared/model/trials/unjudged-trials.ts';
import { lastLitOf } from '../../shared/model/trials/valid-trials.ts';
import { useKnownAnalysis } from '../state/analysis.ts';
import { useHostAction } from '../state/host-calls.ts';
import type { Limits } from '../state/limits.ts';
import { useMeters } from '../state/live/meters.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Announce, Notice } from '../ui/Notice.tsx';
import { NextTrial } from './NextTrial.tsx';
import { NextSpark } from './NextSpark.tsx';
import { stopsShort } from './plan-words.ts';
import { GasOn, PurgeClock } from './PurgeClock.tsx';
import { useAdviceState } from './use-advice.ts';
import { useLiveBurner } from './use-live-burner.ts';
import { useSteadyBurner } from './use-steady-burner.ts';

/** The purge, and then the next trial: gas begins it, or a button where the meters cannot see that. */
export function BeginTrial({
  capture,
  limits,
  purgeLeftS,
  now,
}: {
  capture: CaptureView;
  limits: Limits;
  purgeLeftS: number;
  /** Elapsed seconds of the recording. */
  now: number | undefined;
}) {
  const begin = useHostAction('trials.begin');
  const burner = useLiveBurner();
  // As a valve shuts, the readings are unclear for some tenths of a second: that is no reason to ask for what was just done.
  const said = useSteadyBurner(now, undefined);
  const { advice, isPending } = useAdviceState(capture);
  const { asLeft } = useKnownAnalysis(capture).analysis?.result ?? {};
  const hasSignalMeter = useMeters().signal !== undefined;
  // What the meters show outweighs the time since the last trial; without them that time is all there is.
  const leftS = burner?.purge.needed ? purgeMissing(burner.purge, burner.purge.wantedS) : purgeLeftS;
  const before = { burner, hasSignalMeter };
  const problem = trialProblem(before);
  // Where a meter has failed nobody knows whether gas is shut: nothing counts down.
  const isPurging = leftS > 0 && !problem;
  const isMoreAir = burner?.moreAir === true;
  const isWithoutGas = seesWithoutGas(before);
  const mayBegin = !problem && !isPurging && !isMoreAir && !isWithoutGas;
  const lastLit = lastLitOf(capture);
  // Nothing that leads to another trial, nor a delay to announce, beside gas that is to be shut, or that begins one.
  if (said && (said.trialGas || mustShutGas(said, lastLit))) return <GasOn burner={said} lastLit={lastLit} />;
  const { gas } = burner ?? {};
  const isFirst = burner !== undefined && isBeforeFirstTrial(burner, capture.trials);
  const ready = {
    isReady: isReady(before),
    isMoreAir,
    isSignalWithoutGas: isWithoutGas,
    isUnpurged: burner !== undefined && isUnpurged(burner, capture.trials),
    isSweeping: isSweeping(capture.marks),
    isUnjudged: unjudgedTrials(capture.marks, capture.trials, true).length > 0,
    isPassed: asLeft?.decision === 'pass' && capture.marks.some(({ kind }) => kind === 'as-left'),
    isPending,
    hasFailed: lastLit === false && !advice,
    isDone: advice?.next === null,
    stopsShort: advice !== undefined && stopsShort(advice),
    isUnannounced: isUnannounced(advice?.next?.sparkDelay_s, capture),
  };
  // A sweep that was interrupted asks for its flame, whatever trial the plan asks for; a trial without a result asks for that first.
  const next = ready.isSweeping || ready.isUnjudged || ready.isPassed ? undefined : advice;
  const status = problem ?? (isPurging ? undefined : readyWords(ready));

  return (
    <>
      {said && burner && (burner.purge.needed || isFirst || (isPurging && isGasOn(gas))) ? (
        <PurgeClock burner={said} lastLit={lastLit} />
      ) : (
        // Without the host nobody knows whether it is over.
        burner && isPurging && <WaitClock leftS={purgeLeftS} ofS={limits.purgeSeconds} />
      )}
      <Announce text={status ?? `Purge, ${limits.purgeSeconds} seconds${isGasOn(gas) ? ' after gas is shut' : ''}`} />
      <Panel name="Next trial">
        {problem && <Notice tone="bad" text={problem} />}
        {!problem && status && (
          <p className="trial-status">
            <strong>{status}</strong>
          </p>
        )}
        {!problem && next && <NextTrial advice={next} announcedSparkS={capture.announcedSparkS} />}
        {hasSignalMeter && burner && <p>Gas on begins the trial by itself; the meters record it.</p>}
        <NextSpark capture={capture} trialSeconds={limits.trialSeconds} mayBegin={mayBegin} />
        {!hasSignalMeter && <p>Press when the control opens the pilot valve: the clock starts at that moment.</p>}
        {begin.fault && <Notice tone="bad" text={begin.fault.message} />}
        <Button
          kind={hasSignalMeter ? 'plain' : 'main'}
          size={hasSignalMeter ? 'normal' : 'large'}
          disabled={!mayBegin || begin.busy}
          onClick={() => void begin.run({ capture: capture.id, sparkDelayS: capture.announcedSparkS ?? 0 })}
        >
          {isPurging
            ? purgeWords(gas, leftS, burner?.purge.wantedS ?? limits.purgeSeconds)
            : hasSignalMeter
              ? 'Begin by hand'
              : 'Begin trial'}
        </Button>
      </Panel>
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
