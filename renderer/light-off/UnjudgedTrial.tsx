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

/** The trials of which only the technician can say how they ended, for as long as nobody has: large, once gas is shut. */
export function UnjudgedTrial({ capture, unit }: { capture: CaptureView; unit: PressureUnit }) {
  const [chosen, setChosen] = useState<TimeSpan>();
  const burner = useLiveBurner();
  const open = unjudgedTrials(capture.marks, capture.trials, true);
  // What is being entered stays open when gas comes on or another trial begins.
  const dialog = chosen && (
    <UnjudgedTrialDialog capture={capture} span={chosen} unit={unit} onClose={() => setChosen(undefined)} />
  );
  const last = open.at(-1);
  if (!last || burner?.gas !== 'shut') return dialog ?? null;
  return (
    <Panel name={`Trial at ${formatElapsed(last.fromS)}: no result yet`}>
      <p>The meters cannot tell whether the pilot lit.</p>
      <Button kind="main" size="large" onClick={() => setChosen(last)}>
        Enter its result
      </Button>
      {open.slice(0, -1).map((earlier) => (
        <Button key={earlier.fromS} onClick={() => setChosen(earlier)}>
          Enter that at {formatElapsed(earlier.fromS)}
        </Button>
      ))}
      {dialog}
    </Panel>
  );
}
