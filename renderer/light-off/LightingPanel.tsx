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

/** What the trials show of lighting; undefined before there is a window and a trial, and while it may not hold. */
function useLightingView(capture: CaptureView): LightingView | undefined {
  const { data, isFetching, error } = useAdvice(capture);
  const isLost = useConnection() === 'lost';
  const burner = useLiveBurner();
  // What was shown to light a moment ago is not once a trial failed.
  if (isFetching || error || isLost) return undefined;
  // Beside gas that is to be shut nothing speaks of other pressures.
  if (capture.status === 'recording' && burner && mustShutGas(burner, lastLitOf(capture))) return undefined;
  return data?.lighting;
}

/** The picture: where the pilot lit by pressure and spark delay. */
export function LightingPicture({ capture }: { capture: CaptureView }) {
  const view = useLightingView(capture);
  if (!view) return null;
  return (
    <Panel name="Where it lights">
      <div className="lighting-picture">
        <DelayPlot view={view} />
        <PlotKey of={seriesOf(view)} names={{ window: 'guarded window' }} />
      </div>
    </Panel>
  );
}

/** What the picture says in words, and how probable lighting is over pressure. */
export function LightingPanel({ capture }: { capture: CaptureView }) {
  const view = useLightingView(capture);
  if (!view) return null;
  const [first, ...more] = view.words;
  return (
    <Panel name="How likely it is to light">
      <p>
        <strong>{first}</strong>
      </p>
      <div className="lighting-plot">
        <LightingPlot view={view} />
        <PlotKey of={['lighting', 'curve']} names={{ curve: 'signal, percent of its plateau' }} />
      </div>
      {more.map((words) => (
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
