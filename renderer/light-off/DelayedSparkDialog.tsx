import { formatSeconds } from '../../shared/model/format.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Dialog } from '../ui/controls/Dialog.tsx';

/** Unlit gas flows for a while in this trial, so it is confirmed each time. */
export function DelayedSparkDialog({
  delayS,
  onBegin,
  onClose,
}: {
  delayS: number;
  onBegin: () => void;
  onClose: () => void;
}) {
  return (
    <Dialog name={`Gas without spark for ${formatSeconds(delayS)}?`} onClose={onClose}>
      <ul>
        <li>Full purge done, damper at its light-off position.</li>
        <li>Only pilot gas: main gas shut and proved shut.</li>
        <li>Nobody before the sight port or the burner door.</li>
        <li>Spark delayed only in the way the maker’s manual allows. No jumpers.</li>
        <li>If it does not light: gas off, full purge, then find out why.</li>
      </ul>
      <p>The maker’s manual, the code in force and a licensed person decide whether this may be done here.</p>
      <div className="row">
        <Button size="large" onClick={onClose}>
          Do not
        </Button>
        <Button kind="stop" size="large" onClick={onBegin}>
          Checked. Begin trial
        </Button>
      </div>
    </Dialog>
  );
}
