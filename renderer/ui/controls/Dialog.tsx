import { useEffect, useId, useRef, type ReactNode } from 'react';
import './Dialog.css';

/**
 * A question that must be answered before anything else. Escape answers as `onClose`. The first button has the focus at
 * first, so it should be the safe answer.
 */
export function Dialog({ name, onClose, children }: { name: string; onClose: () => void; children: ReactNode }) {
  const id = useId();
  const box = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const dialog = box.current;
    dialog?.showModal();
    return () => dialog?.close();
  }, []);
  return (
    <dialog
      ref={box}
      className="dialog"
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <h2 id={id}>{name}</h2>
      {children}
    </dialog>
  );
}
