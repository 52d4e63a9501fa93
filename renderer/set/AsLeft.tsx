import { canBeConfirmed } from '../../shared/burner-state/permissions.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import type { AnalysisDetail } from '../../shared/model/analysis-result.ts';
import { formatMargin, formatPressure } from '../../shared/model/format.ts';
import { convertPressure } from '../../shared/model/units.ts';
import { decisionLabels, decisionSentence, formatProbability } from '../../shared/report/labels.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useBurnerState } from '../state/live/burner-state.ts';
import { useWorkbench } from '../state/workbench.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Verdict } from '../ui/visit/Verdict.tsx';

/** Records the as-left pressure and shows the decision on it. */
export function AsLeft({
  capture,
  analysis,
  rerun,
}: {
  capture: CaptureView | undefined;
  analysis: AnalysisDetail | undefined;
  rerun: () => void;
}) {
  const mark = useHostAction('captures.mark');
  const go = useWorkbench((state) => state.go);
  const asLeft = capture?.setup.asLeftPressure;
  const found = analysis?.result;
  // A decision on another pressure than the one on record says nothing of it.
  const isCurrent =
    asLeft &&
    found?.asLeft &&
    Math.abs(found.asLeft.value - convertPressure(asLeft.value, asLeft.unit, found.pressureUnit)) < 1e-6;
  const decided = isCurrent ? found?.asLeft : undefined;
  const isRecording = capture?.status === 'recording';
  const burner = useBurnerState();
  const refusal = burner?.settingRefusal;
  // The technician may answer for what the meters cannot tell, never for shut gas or an alarm: the host has the last word.
  const mustConfirm = mark.fault !== undefined && canBeConfirmed(mark.fault.code);
  const record = async (confirmed?: true) => {
    if (capture && (await mark.run({ capture: capture.id, kind: 'as-left', text: '', confirmed }))) rerun();
  };
  return (
    <Panel name="As-left">
      {asLeft ? (
        <p>
          As-left pressure: <strong className="figure">{formatPressure(asLeft.value, asLeft.unit)}</strong>
        </p>
      ) : (
        <p>{isRecording ? 'Not recorded yet.' : 'Not recorded.'}</p>
      )}
      {asLeft && found && !decided && <p>The decision on this pressure is not calculated yet.</p>}
      {asLeft && analysis && decided && (
        <>
          <Verdict decision={decided.decision}>{decisionLabels[decided.decision]}</Verdict>
          <p>{decisionSentence(decided)}</p>
          {analysis.conformance && (
            <p>
              Probability that it lies in the window:{' '}
              <strong className="figure">{formatProbability(analysis.conformance.probability)}</strong>
            </p>
          )}
          <p className="soft">
            Margin {formatMargin(decided.marginLow, analysis.result.pressureUnit)} below,{' '}
            {formatMargin(decided.marginHigh, analysis.result.pressureUnit)} above
          </p>
        </>
      )}
      {mark.fault && <Notice tone="bad" text={mark.fault.message} />}
      {mustConfirm && (
        <Button disabled={mark.busy} onClick={() => void record(true)}>
          I see gas on and a steady flame: record
        </Button>
      )}
      <div className="row">
        <Button
          kind={asLeft ? 'plain' : 'main'}
          size="large"
          disabled={!isRecording || mark.busy || !burner || (refusal !== undefined && !canBeConfirmed(refusal.code))}
          onClick={() => void record()}
        >
          {asLeft ? 'Record as-left again' : 'Record as-left'}
        </Button>
        {asLeft && (
          <Button kind="main" size="large" onClick={() => go('proof')}>
            Next: proof
          </Button>
        )}
      </div>
      {!isRecording && capture?.status !== 'complete' && <p className="soft">Start recording first.</p>}
    </Panel>
  );
}
