import type { ReactNode } from 'react';
import { BurnerPlace } from './burner/BurnerPlace.tsx';
import { EarlierPlace } from './earlier/EarlierPlace.tsx';
import { LightOffPlace } from './light-off/LightOffPlace.tsx';
import { MetersPlace } from './meters/MetersPlace.tsx';
import { PracticeBench } from './practice/PracticeBench.tsx';
import { ProofPlace } from './proof/ProofPlace.tsx';
import { SetPlace } from './set/SetPlace.tsx';
import { AlarmBanner } from './shell/AlarmBanner.tsx';
import { Banners } from './shell/Banners.tsx';
import { Rail } from './shell/Rail.tsx';
import { TopStrip } from './shell/TopStrip.tsx';
import { WhileConnected } from './ui/controls/WhileConnected.tsx';
import { useTheme } from './ui/theme/theme.ts';
import { useHostQuery } from './state/host-calls.ts';
import { useWorkbench, type Place } from './state/workbench.ts';
import { useCapture } from './state/current-capture.ts';
import { useBurnerState } from './state/live/burner-state.ts';
import { useMeters } from './state/live/meters.ts';
import { useAttachToRecording } from './state/open-capture.ts';
import { useReadingsFeed } from './state/live/recording.ts';
import { SweepPlace } from './sweep/SweepPlace.tsx';
import { useKnownNextTrial } from './light-off/use-advice.ts';
import { useKnownAnalysis } from './state/analysis.ts';
import { WindowPlace } from './window/WindowPlace.tsx';
import './shell/shell.css';
import './shell/shell-narrow.css';

const places: Record<Place, () => ReactNode> = {
  burner: BurnerPlace,
  meters: MetersPlace,
  sweep: SweepPlace,
  'light-off': LightOffPlace,
  window: WindowPlace,
  set: SetPlace,
  proof: ProofPlace,
  earlier: EarlierPlace,
};

/** The workbench: the steps on the left, the state of the visit on top, one place at a time. */
export function App() {
  const place = useWorkbench((state) => state.place);
  const captureId = useWorkbench((state) => state.captureId);
  const { data: about } = useHostQuery('about.get', {});
  useTheme();
  useReadingsFeed(captureId);
  useAttachToRecording();

  const PlaceView = places[place];
  return (
    <div className="shell">
      <AlarmBanner />
      <StepsAndState />
      <main key={place} className="main" id="place">
        <WhileConnected>
          <Banners />
          <PlaceView />
        </WhileConnected>
      </main>
      <WhileConnected>{about?.practice && <PracticeBench />}</WhileConnected>
    </div>
  );
}

/** What follows the meters and the visit live is rendered apart from the places, which follow only what they show. */
function StepsAndState() {
  const named = useWorkbench((state) => state.burner.name.trim() !== '');
  const capture = useCapture();
  const meters = useMeters();
  const burner = useBurnerState();
  const progress = {
    burnerNamed: capture?.burner !== undefined || named,
    pressureLive: meters.pressure?.stale === false,
    signalLive: meters.signal?.stale === false,
    capture,
    burner,
    ...useKnownAnalysis(capture),
    ...useKnownNextTrial(capture),
  };
  return (
    <>
      <Rail progress={progress} />
      <TopStrip progress={progress} meters={meters} hasAlarm={burner?.alarm !== undefined} />
    </>
  );
}
