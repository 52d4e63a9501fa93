import { sparkTiming } from '../../shared/light-off/at-setting.ts';
import { formatSeconds } from '../../shared/model/format.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Dialog } from '../ui/controls/Dialog.tsx';

/** Unlit gas flows for a while in this trial, so it is confirmed each time. */
export function DelayedSparkDialog({
  delayS,
  trialSeconds,
  onConfirm,
  onClose,
}: {
  delayS: number;
  trialSeconds: number;
  onConfirm: () => void;
  onClose: () => void;
}) {
  return (
    <Dialog name={`Let unlit gas flow for ${formatSeconds(delayS)}?`} onClose={onClose}>
      <ul className="bullets">
        {sparkTiming(delayS, trialSeconds) !== 'delayed' && (
          <li>
            <strong>
              It will not count as delayed: the plan asks for a delay of {formatSeconds(trialSeconds / 2)} or more.
            </strong>
          </li>
        )}
        <li>Full purge completed, damper in its light-off position.</li>
        <li>Pilot gas only: main gas valves closed and proved closed.</li>
        <li>Everyone stands clear of the sight port and the burner door.</li>
        <li>The spark is delayed only in a way that the maker’s manual allows. No jumpers.</li>
        <li>If it does not light: gas off, full purge, then find the cause.</li>
      </ul>
      <p>The maker’s manual, the code in force and a licensed person decide whether this may be done here.</p>
      <div className="row">
        <Button size="large" onClick={onClose}>
          Cancel
        </Button>
        <Button kind="stop" size="large" onClick={onConfirm}>
          All checked: announce
        </Button>
      </div>
    </Dialog>
  );
}
