import { formatPressure } from '../../shared/model/format.ts';
import type { PressureUnit } from '../../shared/model/units.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Dialog } from '../ui/controls/Dialog.tsx';

/** Asks before a pressure that the guide would not leave is recorded as as-left. The numbers are those of now. */
export function AsLeftDialog({
  present,
  unit,
  doubts,
  onRecord,
  onClose,
}: {
  present: number;
  unit: PressureUnit;
  doubts: readonly string[];
  onRecord: () => void;
  onClose: () => void;
}) {
  const shown = formatPressure(present, unit);
  return (
    <Dialog name={`Record as-left at ${shown}?`} onClose={onClose}>
      {doubts.length === 0 ? (
        <p>Nothing left to question.</p>
      ) : (
        <ul className="bullets">
          {doubts.map((doubt) => (
            <li key={doubt}>{doubt}</li>
          ))}
        </ul>
      )}
      <div className="row">
        <Button size="large" onClick={onClose}>
          Keep adjusting
        </Button>
        <Button kind={doubts.length === 0 ? 'main' : 'stop'} size="large" onClick={onRecord}>
          Record {shown}
        </Button>
      </div>
    </Dialog>
  );
}
