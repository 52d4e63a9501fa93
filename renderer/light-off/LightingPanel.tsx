import { mustShutGas } from '../../shared/burner-state/trials/trial-words.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import { lastLitOf } from '../../shared/model/trials/valid-trials.ts';
import type { LightingView } from '../../shared/model/results/lighting-view.ts';
import type { SeriesName } from '../../shared/report/charts/chart-style.ts';
import { DelayPlot, LightingPlot } from '../plot/LightingPlot.tsx';
import { PlotKey } from '../plot/PlotKey.tsx';
import { useConnection } from '../state/connection.ts';
import { Panel } from '../ui/Panel.tsx';
import { useAdvice } from './use-advice.ts';
import { useLiveBurner } from './use-live-burner.ts';

/** Where the pilot lit by pressure and spark delay, and how probable it is over pressure; nothing before there is a window and a trial. */
export function LightingPanel({ capture }: { capture: CaptureView }) {
  const { data, isFetching, error } = useAdvice(capture);
  const isLost = useConnection() === 'lost';
  const burner = useLiveBurner();
  const view = data?.lighting;
  // What was shown to light a moment ago is not once a trial failed.
  if (!view || isFetching || error || isLost) return null;
  // Beside gas that is to be shut nothing speaks of other pressures.
  if (capture.status === 'recording' && burner && mustShutGas(burner, lastLitOf(capture))) return null;
  return (
    <Panel name="Where it lights">
      <p>
        <strong>{view.words[0]}</strong>
      </p>
      <div className="lighting-plots">
        <PlotKey of={seriesOf(view)} names={{ window: 'guarded window' }} />
        <DelayPlot view={view} />
        <PlotKey of={['lighting', 'curve']} names={{ curve: 'signal, percent of its plateau' }} />
        <LightingPlot view={view} />
      </div>
      {view.words.slice(1).map((words) => (
        <p key={words}>{words}</p>
      ))}
    </Panel>
  );
}

function seriesOf({ tried, regions, window, setPoint, asLeft }: LightingView): SeriesName[] {
  const shown: [SeriesName, boolean][] = [
    ['lit', tried.some(({ lit }) => lit)],
    ['not-lit', tried.some(({ lit }) => !lit)],
    ['proved', regions !== undefined],
    ['in-doubt', regions !== undefined],
    ['window', window !== undefined],
    ['set-point', setPoint !== undefined],
    ['as-left', asLeft !== undefined],
  ];
  return shown.filter(([, isShown]) => isShown).map(([name]) => name);
}
