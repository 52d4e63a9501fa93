import { canBeConfirmed } from '../../../shared/burner-state/permissions.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { Button } from '../controls/Button.tsx';
import { Notice } from '../Notice.tsx';

/** Why as-found or as-left was refused and, where the technician may answer for that, a button to record it all the same. */
export function ConfirmRecord({
  fault,
  busy,
  onConfirm,
}: {
  fault: Fault | undefined;
  busy: boolean;
  onConfirm: () => void;
}) {
  if (!fault) return null;
  return (
    <>
      <Notice tone="bad" text={fault.message} />
      {canBeConfirmed(fault.code) && (
        <Button disabled={busy} onClick={onConfirm}>
          {fault.code === 'as-found-late'
            ? 'Not turned, and a steady flame: record as-found'
            : 'I see gas on and a steady flame: record'}
        </Button>
      )}
    </>
  );
}
