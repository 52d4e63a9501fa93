import { useEffect } from 'react';
import { canBeConfirmed, isRefusalOver } from '../../../shared/burner-state/permissions.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { useBurnerState } from '../../state/live/burner-state.ts';
import { Button } from '../controls/Button.tsx';
import { Notice } from '../Notice.tsx';

/** The page learns what the burner does this much later than the host that has refused, ms, and a sentence is read meanwhile. */
const overAfterMs = 1500;

/**
 * Why as-found or as-left was refused and, where the technician may answer for that, a button to record it all the same. `onOver`: what it
 * was refused for is over. Nobody is asked to answer for what the burner shows to be otherwise.
 */
export function ConfirmRecord({
  fault,
  busy,
  onConfirm,
  onOver,
}: {
  fault: Fault | undefined;
  busy: boolean;
  onConfirm: () => void;
  onOver: () => void;
}) {
  const now = useBurnerState()?.settingRefusal?.code;
  const isOver = fault !== undefined && isRefusalOver(fault.code, now);
  const isWorse = now !== undefined && !canBeConfirmed(now);
  useEffect(() => {
    if (!isOver) return undefined;
    const timer = setTimeout(onOver, overAfterMs);
    return () => clearTimeout(timer);
  }, [isOver, onOver]);
  if (!fault || (isOver && isWorse)) return null;
  return (
    <>
      <Notice tone="bad" text={fault.message} />
      {canBeConfirmed(fault.code) && !isWorse && (
        <Button disabled={busy} onClick={onConfirm}>
          {fault.code === 'as-found-late'
            ? 'Not turned, and a steady flame: record as-found'
            : 'I see gas on and a steady flame: record'}
        </Button>
      )}
    </>
  );
}
