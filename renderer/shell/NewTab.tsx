import { useState } from 'react';
import { useHostAction, useHostQuery } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Dialog } from '../ui/controls/Dialog.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Shape } from '../ui/Shape.tsx';

/** Opens the workbench once more, here or in another browser of this computer. Only in a browser: the desktop program has one window. */
export function NewTab() {
  const { data: about } = useHostQuery('about.get', {});
  const [isOpen, setOpen] = useState(false);
  if (about?.host !== 'browser') return null;
  return (
    <>
      <button type="button" className="rail-step" onClick={() => setOpen(true)}>
        <span className="rail-sign">
          <Shape name="hollow-square" size={16} />
        </span>
        <span>New tab</span>
      </button>
      {isOpen && <NewTabDialog onClose={() => setOpen(false)} />}
    </>
  );
}

function NewTabDialog({ onClose }: { onClose: () => void }) {
  const made = useHostAction('address.new');
  const [address, setAddress] = useState<string>();
  const [isCopied, setCopied] = useState(false);
  const openHere = () => {
    // The token of this browser lets it in.
    window.open(location.pathname, '_blank', 'noopener');
    onClose();
  };
  const makeAddress = async () => {
    const given = await made.run({});
    if (!given) return;
    setAddress(given.address);
    setCopied(false);
  };
  const copy = async (text: string) => {
    // Refused without a permission: the address can still be selected.
    await navigator.clipboard.writeText(text).then(
      () => setCopied(true),
      () => {},
    );
  };
  return (
    <Dialog name="Another tab or browser" onClose={onClose}>
      <p>All windows show and control the same recording.</p>
      {address !== undefined && (
        <div>
          <p>Opens one browser, once, on this computer. Whoever has it can control the recording.</p>
          <output className="new-address">{address}</output>
        </div>
      )}
      {made.fault && <Notice tone="bad" text={made.fault.message} />}
      <div className="row">
        <Button size="large" onClick={onClose}>
          Close
        </Button>
        {address === undefined ? (
          <>
            <Button size="large" disabled={made.busy} onClick={() => void makeAddress()}>
              Address for another browser
            </Button>
            <Button kind="main" size="large" onClick={openHere}>
              Open a tab here
            </Button>
          </>
        ) : (
          <Button kind="main" size="large" onClick={() => void copy(address)}>
            {isCopied ? 'Copied' : 'Copy'}
          </Button>
        )}
      </div>
    </Dialog>
  );
}
