import { delayCaution, trialCaution } from '../../shared/advice/words.ts';
import { trialProblem } from '../../shared/burner-state/trials/readiness.ts';
import { mustShutGas } from '../../shared/burner-state/trials/trial-words.ts';
import { lastLitOf } from '../../shared/model/trials/valid-trials.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import type { CaptureAdvice } from '../../shared/model/results/advice.ts';
import { isUnanswered } from '../../shared/model/faults.ts';
import { formatMargin, formatPressure } from '../../shared/model/format.ts';
import { useConnection } from '../state/connection.ts';
import { faultOf } from '../state/host-calls.ts';
import { useMeters } from '../state/live/meters.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { noAdviceWords } from './no-advice-words.ts';
import { isAdvisable, knownMeanwhile, stopsShort } from './plan-words.ts';
import { useAdvice } from './use-advice.ts';
import { useLiveBurner } from './use-live-burner.ts';

/** What the trials prove at the setting, in sentences, and which trial comes next, or why none does. */
export function AdvicePanel({ capture }: { capture: CaptureView }) {
  const { data: advice, error, isFetching, refetch } = useAdvice(capture);
  const burner = useLiveBurner();
  const problem = trialProblem({ burner, hasSignalMeter: useMeters().signal !== undefined });
  const fault = faultOf(error);
  const isRecording = capture.status === 'recording';
  // What a host said that is gone may not hold anymore; and beside gas that is to be shut nothing asks for a trial.
  const isLost = useConnection() === 'lost';
  if (isLost || (isRecording && burner && mustShutGas(burner, lastLitOf(capture)))) return null;
  return (
    <Panel name="What is proved, and what comes next">
      {(isFetching || !isAdvisable(capture)) && (
        <output className="stack">
          {knownMeanwhile(capture).map((words) => (
            <p key={words}>{words}</p>
          ))}
        </output>
      )}
      {!isFetching && fault && <p>{noAdviceWords(fault, capture)}</p>}
      {!isFetching && fault && isUnanswered(fault) && (
        <div className="row">
          <Button onClick={() => void refetch()}>Recalculate</Button>
        </div>
      )}
      {!isFetching && advice && (
        <>
          <p>
            <strong>{advice.proved}</strong>
          </p>
          {isRecording && !capture.runningTrial && !problem && <WhyNext advice={advice} />}
          {!problem && !capture.runningTrial && advice.notes.map((note) => <p key={note}>{note}</p>)}
        </>
      )}
    </Panel>
  );
}

function WhyNext({ advice }: { advice: CaptureAdvice }) {
  const { next, reason, candidates, pressureUnit } = advice;
  const others = candidates.filter(({ pressure }) => pressure !== next?.pressure);
  return (
    <>
      {/* Why no trial is advised that the plan asks for stands where the next one would. */}
      {!stopsShort(advice) && <p>{reason}</p>}
      {next && <p>{trialCaution}</p>}
      {next && next.sparkDelay_s > 0 && <p>{delayCaution}</p>}
      {others.length > 0 && (
        <ul className="trial-candidates" aria-label="Also possible">
          {others.map(({ pressure, gain }) => (
            <li key={pressure}>
              Also possible: {formatPressure(pressure, pressureUnit)}, expected to prove{' '}
              {formatMargin(gain, pressureUnit)} more margin
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
