import { useEffect, useId, useRef, type ReactNode } from 'react';
import { createPortal } from 'react-dom';
import { create } from 'zustand';
import { visibleText } from '../../../shared/model/visible-text.ts';
import { useConnection } from '../../state/connection.ts';
import { fault } from '../../../shared/model/faults.ts';
import { Notice } from '../Notice.tsx';
import { Button } from './Button.tsx';
import { WhileConnected } from './WhileConnected.tsx';
import './Dialog.css';

/** The dialogs that are open, innermost last: all else on the page is out of reach meanwhile. */
const useDialogs = create<{ open: readonly HTMLDialogElement[] }>(() => ({ open: [] }));

/** The dialog in front; undefined where none is open. What must be seen and reached all the same is rendered into it. */
export const useFrontDialog = (): HTMLDialogElement | undefined => useDialogs(({ open }) => open.at(-1));

/**
 * A question that must be answered before anything else. Escape answers as `onClose`. The first button has the focus at
 * first, so it should be the safe answer. While the connection to the host is lost, the dialog can only be closed.
 */
export function Dialog({ name, onClose, children }: { name: string; onClose: () => void; children: ReactNode }) {
  const id = useId();
  const isLost = useConnection() === 'lost';
  const box = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const dialog = box.current!;
    dialog.showModal();
    useDialogs.setState(({ open }) => ({ open: [...open, dialog] }));
    return () => {
      useDialogs.setState(({ open }) => ({ open: open.filter((each) => each !== dialog) }));
      dialog.close();
    };
  }, []);
  // Beside the page, whose controls may be disabled while this can still be closed.
  return createPortal(
    <dialog
      ref={box}
      className="dialog"
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <h2 id={id}>{visibleText(name)}</h2>
      {isLost && (
        <Notice tone="bad" text={fault('host-gone').message}>
          <Button size="large" onClick={onClose}>
            Close
          </Button>
        </Notice>
      )}
      <WhileConnected>{children}</WhileConnected>
    </dialog>,
    document.body,
  );
}
