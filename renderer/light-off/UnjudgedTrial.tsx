import { useState } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import { formatElapsed } from '../../shared/model/format.ts';
import type { TimeSpan } from '../../shared/model/sweeps.ts';
import { unjudgedTrials } from '../../shared/model/trials/unjudged-trials.ts';
import type { PressureUnit } from '../../shared/model/units.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { UnjudgedTrialDialog } from './trial-list/UnjudgedTrialDialog.tsx';
import { useLiveBurner } from './use-live-burner.ts';

/** The last trial of which only the technician can say how it ended, for as long as nobody has: large, once its gas is shut. */
export function UnjudgedTrial({ capture, unit }: { capture: CaptureView; unit: PressureUnit }) {
  const [chosen, setChosen] = useState<TimeSpan>();
  const burner = useLiveBurner();
  const last = unjudgedTrials(capture.marks, capture.trials, true).at(-1);
  // What is being entered stays open when gas comes on or another trial begins.
  const dialog = chosen && (
    <UnjudgedTrialDialog capture={capture} span={chosen} unit={unit} onClose={() => setChosen(undefined)} />
  );
  if (!last || burner?.gas !== 'shut') return dialog ?? null;
  return (
    <Panel name={`Trial at ${formatElapsed(last.fromS)}: no result yet`}>
      <p>The meters cannot tell whether the pilot lit.</p>
      <Button kind="main" size="large" onClick={() => setChosen(last)}>
        Enter its result
      </Button>
      {dialog}
    </Panel>
  );
}
