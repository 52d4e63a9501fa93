import { useState } from 'react';
import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import { isUnanswered } from '../../shared/model/faults.ts';
import type { SeriesName } from '../../shared/report/charts/chart-style.ts';
import { litAt } from '../../shared/model/stretches.ts';
import { CurvePlot } from '../plot/CurvePlot.tsx';
import { PlotKey } from '../plot/PlotKey.tsx';
import { useWorkbench } from '../state/workbench.ts';
import { useCapture } from '../state/current-capture.ts';
import { limitsOf } from '../state/limits.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { useAnalysis } from '../state/analysis.ts';
import { EndTile, SetPointTile } from './EndTiles.tsx';
import { Explain } from './Explain.tsx';
import { Findings } from './Findings.tsx';
import { Working } from '../ui/Working.tsx';
import './window.css';
import { judgedTrials } from '../../shared/model/trials/valid-trials.ts';

/** Step 5: the window, why its ends are where they are, and how certain that is. */
export function WindowPlace() {
  const capture = useCapture();
  const go = useWorkbench((state) => state.go);
  const { analysis, fault, busy, rerun, cancel } = useAnalysis(capture, true);
  return (
    <>
      <div className="place-head">
        <h1>Window</h1>
        <div className="row">
          {capture && !busy && <Button onClick={() => void rerun()}>Recalculate</Button>}
          <Button kind="main" disabled={!analysis?.result.setPoint} onClick={() => go('set')}>
            Next: set
          </Button>
        </div>
      </div>
      {!capture && (
        <Panel name="Nothing recorded yet">
          <p>Record a sweep, or open an earlier capture.</p>
        </Panel>
      )}
      {busy && <Working name="Calculating the window" onCancel={cancel} />}
      {!busy && fault && (
        <Notice
          tone="warning"
          text={
            isUnanswered(fault)
              ? `${fault.message} Recalculate tries again.`
              : `The window cannot be calculated. ${fault.message}`
          }
        />
      )}
      {capture && analysis && !fault && <Result capture={capture} analysis={analysis} />}
    </>
  );
}

/** The series that the plot of this analysis has, for its key. */
function plottedSeries({ pairs, result }: AnalysisDetail, { trials, setup }: CaptureView): SeriesName[] {
  const judged = judgedTrials(trials, setup);
  const isLit = litAt(result.phases);
  const lit = pairs.elapsedS.map((t) => Number(isLit(t)));
  const hasDirection = (direction: number) =>
    pairs.direction.some((value, i) => lit[i] === 1 && Math.sign(value) === direction);
  const shown: [SeriesName, boolean][] = [
    ['turning-in', hasDirection(1)],
    ['turning-out', hasDirection(-1)],
    ['at-rest', hasDirection(0)],
    ['unlit', lit.includes(0)],
    ['curve', true],
    ['window', result.window.low !== undefined],
    ['guarded-end', result.window.low !== undefined],
    ['set-point', result.setPoint !== undefined],
    ['as-left', result.asLeft !== undefined],
    ['lit', judged.some((trial) => trial.lit)],
    ['not-lit', judged.some((trial) => !trial.lit)],
  ];
  return shown.filter(([, isShown]) => isShown).map(([name]) => name);
}

function Result({ capture, analysis }: { capture: CaptureView; analysis: AnalysisDetail }) {
  const [explained, setExplained] = useState<'low' | 'high'>();
  const { result } = analysis;
  const limits = limitsOf(capture.setup, result.pressureUnit, result.signalUnit);
  const toggle = (side: 'low' | 'high') => setExplained(explained === side ? undefined : side);
  return (
    <div className="window-place fills">
      <div className="ends">
        <EndTile analysis={analysis} side="low" isSelected={explained === 'low'} onSelect={() => toggle('low')} />
        <SetPointTile result={result} />
        <EndTile analysis={analysis} side="high" isSelected={explained === 'high'} onSelect={() => toggle('high')} />
      </div>
      <section className="window-plot" aria-label="Curve and window">
        <PlotKey of={plottedSeries(analysis, capture)} />
        <CurvePlot analysis={analysis} trials={capture.trials} setup={capture.setup} limits={limits} />
      </section>
      <div className="window-explain stack" aria-live="polite">
        {explained ? (
          <Explain analysis={analysis} side={explained} />
        ) : (
          <Findings analysis={analysis} setup={capture.setup} />
        )}
      </div>
    </div>
  );
}
