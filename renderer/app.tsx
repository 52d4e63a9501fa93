import type { ReactNode } from 'react';
import { BurnerPlace } from './burner/BurnerPlace.tsx';
import { EarlierPlace } from './earlier/EarlierPlace.tsx';
import { LightOffPlace } from './light-off/LightOffPlace.tsx';
import { MetersPlace } from './meters/MetersPlace.tsx';
import { PracticeBench } from './practice/PracticeBench.tsx';
import { ProofPlace } from './proof/ProofPlace.tsx';
import { SetPlace } from './set/SetPlace.tsx';
import { Banners } from './shell/Banners.tsx';
import { Rail } from './shell/Rail.tsx';
import { TopStrip } from './shell/TopStrip.tsx';
import { useTheme } from './ui/theme/theme.ts';
import { useHostQuery } from './state/host-calls.ts';
import { useWorkbench, type Place } from './state/workbench.ts';
import { useCapture } from './state/current-capture.ts';
import { useMeters } from './state/live/meters.ts';
import { useTakingUp } from './state/open-capture.ts';
import { useFollowing } from './state/live/recording.ts';
import { SweepPlace } from './sweep/SweepPlace.tsx';
import { useIsAnalysed } from './state/analysis.ts';
import { WindowPlace } from './window/WindowPlace.tsx';
import './shell/shell.css';

const rooms: Record<Place, () => ReactNode> = {
  burner: BurnerPlace,
  meters: MetersPlace,
  sweep: SweepPlace,
  'light-off': LightOffPlace,
  window: WindowPlace,
  set: SetPlace,
  proof: ProofPlace,
  earlier: EarlierPlace,
};

/** The workbench: the steps at the left, the state of the visit on top, one place at a time. */
export function App() {
  const place = useWorkbench((bench) => bench.place);
  const captureId = useWorkbench((bench) => bench.captureId);
  const named = useWorkbench((bench) => bench.burner.name.trim() !== '');
  const capture = useCapture();
  const meters = useMeters();
  const { data: about } = useHostQuery('about.get', {});
  useTheme();
  useFollowing(captureId);
  useTakingUp();

  const facts = {
    burnerNamed: capture?.burner !== undefined || named,
    pressureLive: meters.pressure?.stale === false,
    signalLive: meters.signal?.stale === false,
    capture,
    windowKnown: useIsAnalysed(captureId),
  };
  const Room = rooms[place];
  return (
    <div className="shell">
      <Rail facts={facts} />
      <TopStrip facts={facts} meters={meters} />
      <main key={place} className="main" id="place">
        <Banners />
        <Room />
      </main>
      {about?.practice && <PracticeBench />}
    </div>
  );
}
