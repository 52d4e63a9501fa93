import type { CaptureView } from '../../shared/contract/api.ts';
import type { AnalysisDetail } from '../../shared/model/analysis-result.ts';
import { formatPressure } from '../../shared/model/format.ts';
import { decisionLabels, decisionSentence, formatProbability } from '../../shared/report/labels.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useWorkbench } from '../state/workbench.ts';
import { Button } from '../ui/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { StatusWord, type Tone } from '../ui/StatusWord.tsx';

const tones: Record<keyof typeof decisionLabels, Tone> = {
  pass: 'good',
  'conditional-pass': 'doubt',
  'conditional-fail': 'doubt',
  fail: 'bad',
};

/** Records what the regulator was left at, and says whether that holds. */
export function AsLeft({
  capture,
  analysis,
  again,
}: {
  capture: CaptureView | undefined;
  analysis: AnalysisDetail | undefined;
  again: () => void;
}) {
  const mark = useHostAction('captures.mark');
  const go = useWorkbench((bench) => bench.go);
  const kept = capture?.setup.asLeftPressure;
  const decided = analysis?.result.asLeft;
  const isRecording = capture?.status === 'recording';
  const record = async () => {
    if (capture && (await mark.run({ capture: capture.id, kind: 'as-left', text: '' }))) again();
  };
  return (
    <Panel name="As-left">
      {kept ? (
        <p>
          Left at <strong className="figure">{formatPressure(kept.value, kept.unit)}</strong>
        </p>
      ) : (
        <p>{isRecording ? 'Not recorded yet.' : 'Not recorded.'}</p>
      )}
      {kept && decided && (
        <>
          <StatusWord tone={tones[decided.decision]}>{decisionLabels[decided.decision]}</StatusWord>
          <p>{decisionSentence(decided)}</p>
          {analysis.conformance && (
            <p>
              In the window with a probability of{' '}
              <strong className="figure">{formatProbability(analysis.conformance.probability)}</strong>
            </p>
          )}
          <p className="soft">
            Margin {formatPressure(decided.marginLow, analysis.result.pressureUnit)} below,{' '}
            {formatPressure(decided.marginHigh, analysis.result.pressureUnit)} above
          </p>
        </>
      )}
      {mark.fault && <Notice tone="bad" text={mark.fault.message} />}
      <div className="row">
        <Button
          kind={kept ? 'plain' : 'main'}
          size="large"
          disabled={!isRecording || mark.busy}
          onClick={() => void record()}
        >
          {kept ? 'Record as-left again' : 'Record as-left'}
        </Button>
        {kept && (
          <Button kind="main" size="large" onClick={() => go('proof')}>
            On to proof
          </Button>
        )}
      </div>
      {!isRecording && capture?.status !== 'complete' && <p className="soft">Start recording first.</p>}
    </Panel>
  );
}
