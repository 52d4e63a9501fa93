import { formatPressure } from '../../shared/model/format.ts';
import type { PressureUnit } from '../../shared/model/units.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Dialog } from '../ui/controls/Dialog.tsx';
import { Notice } from '../ui/Notice.tsx';

/** Asks before a pressure that the guide would not leave is recorded as as-left. The numbers are those of now. */
export function AsLeftDialog({
  present,
  unit,
  refusal,
  doubts,
  open,
  onRecord,
  onClose,
}: {
  present: number;
  unit: PressureUnit;
  /** Why it must not be recorded now, whatever was asked; undefined where it may. */
  refusal: string | undefined;
  /** What speaks against it now, and what the record leaves open about it. */
  doubts: readonly string[];
  open: readonly string[];
  onRecord: () => void;
  onClose: () => void;
}) {
  const shown = formatPressure(present, unit);
  return (
    <Dialog name={`Record as-left at ${shown}?`} onClose={onClose}>
      {refusal !== undefined ? (
        <Notice tone="bad" text={refusal} />
      ) : (
        <>
          {/* What was asked about may be over meanwhile; the button is the same all the time. */}
          {doubts.length === 0 && <p>What spoke against it is over.</p>}
          {doubts.length + open.length === 0 ? (
            <p>Nothing left to question.</p>
          ) : (
            <ul className="bullets">
              {[...doubts, ...open].map((each) => (
                <li key={each}>{each}</li>
              ))}
            </ul>
          )}
        </>
      )}
      <div className="row">
        <Button size="large" onClick={onClose}>
          Keep adjusting
        </Button>
        <Button kind="stop" size="large" disabled={refusal !== undefined} onClick={onRecord}>
          Record {shown}
        </Button>
      </div>
    </Dialog>
  );
}
