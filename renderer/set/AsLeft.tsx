import { useState } from 'react';
import { canBeConfirmed } from '../../shared/burner-state/permissions.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import { formatMargin, formatPressure } from '../../shared/model/format.ts';
import { convertPressure, type PressureUnit } from '../../shared/model/units.ts';
import { decisionLabels, decisionSentence, marginsOf, formatProbability } from '../../shared/report/labels.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useBurnerState } from '../state/live/burner-state.ts';
import { useRecording } from '../state/live/recording.ts';
import { useWorkbench } from '../state/workbench.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { ConfirmRecord } from '../ui/visit/ConfirmRecord.tsx';
import { Verdict } from '../ui/visit/Verdict.tsx';
import { asLeftDoubts, guardedWindow } from './adjustment.ts';
import { asLeftOpen, lossesAt, nearness } from './as-left-record.ts';
import { AsLeftDialog } from './AsLeftDialog.tsx';
import type { Withheld } from './setting-advice.ts';

/** Records the as-left pressure and shows the decision on it. */
export function AsLeft({
  capture,
  analysis,
  present,
  target,
  unit,
  withheld,
}: {
  capture: CaptureView | undefined;
  analysis: AnalysisDetail | undefined;
  /** The live pressure and the one that the guide leads to, in `unit`; undefined where there is none. */
  present: number | undefined;
  target: number | undefined;
  unit: PressureUnit;
  /** Why there is no result that rests on all that is on record. */
  withheld: Withheld | undefined;
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
  const margins = decided && marginsOf(decided);
  const isRecording = capture?.status === 'recording';
  const burner = useBurnerState();
  const refusal = burner?.settingRefusal;
  const isRefused = refusal !== undefined && !canBeConfirmed(refusal.code);
  const recording = useRecording();
  const [asks, setAsks] = useState(false);
  const doubts =
    present === undefined || !burner
      ? []
      : asLeftDoubts(
          present,
          {
            target,
            window: guardedWindow(analysis, unit),
            regulator: burner.regulator,
            isFrozen: burner.pressureTrouble !== undefined,
            losses:
              capture && recording
                ? lossesAt(present, capture, recording.buffer.column('pilot_pressure'), nearness(analysis, unit))
                : 0,
          },
          unit,
        );
  const record = async (confirmed?: true) => {
    setAsks(false);
    if (capture) await mark.run({ capture: capture.id, kind: 'as-left', text: '', confirmed });
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
      {asLeft && !decided && <p>{undecidedWords(withheld)}</p>}
      {asLeft && analysis && decided && (
        <>
          <Verdict decision={decided.decision}>{decisionLabels[decided.decision]}</Verdict>
          <p>{decisionSentence(decided, analysis.result.lightOff)}</p>
          {analysis.conformance && (
            <p>
              Probability that it lies in the window:{' '}
              <strong className="figure">{formatProbability(analysis.conformance.probability)}</strong>
            </p>
          )}
          {margins && (
            <p className="soft">
              Margin {formatMargin(margins.low, analysis.result.pressureUnit)} below,{' '}
              {formatMargin(margins.high, analysis.result.pressureUnit)} above
            </p>
          )}
        </>
      )}
      <ConfirmRecord fault={mark.fault} busy={mark.busy} onConfirm={() => void record(true)} onOver={mark.clear} />
      <div className="row">
        {capture?.status !== 'complete' && (
          <Button
            kind={asLeft ? 'plain' : 'main'}
            size="large"
            disabled={!isRecording || mark.busy || !burner || isRefused}
            onClick={() => (doubts.length > 0 ? setAsks(true) : void record())}
          >
            {asLeft ? 'Record as-left again' : 'Record as-left'}
          </Button>
        )}
        {asLeft && (
          <Button kind="main" size="large" onClick={() => go('proof')}>
            Next: proof
          </Button>
        )}
      </div>
      {asks && present !== undefined && (
        <AsLeftDialog
          present={present}
          unit={unit}
          refusal={isRefused ? refusal?.message : undefined}
          doubts={doubts}
          open={
            capture
              ? asLeftOpen(present, unit, capture, analysis, withheld === 'sweeping' || withheld === 'calculating')
              : []
          }
          onRecord={() => void record()}
          onClose={() => setAsks(false)}
        />
      )}
      {!isRecording && capture?.status !== 'complete' && <p className="soft">Start recording first.</p>}
    </Panel>
  );
}

/** Why no decision on the as-left pressure is shown. */
function undecidedWords(withheld: Withheld | undefined): string {
  if (withheld === 'sweeping') return 'The decision follows when the sweep has ended.';
  return withheld === 'calculating' ? 'Calculating the decision…' : 'There is no decision on this pressure.';
}
