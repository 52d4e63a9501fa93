import { useHostAction, useHostQuery } from '../state/host-calls.ts';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { StatusWord } from '../ui/StatusWord.tsx';

/** The switch for meters on the network, off by default, and what it means. */
export function NetworkPanel() {
  const { data: network } = useHostQuery('network.get', {});
  const allow = useHostAction('network.allow', ['network.get']);
  const allowed = network?.allowed ?? false;
  return (
    <Panel name="Meters on the network">
      <label className="port-choice">
        <input
          type="checkbox"
          role="switch"
          aria-checked={allowed}
          checked={allowed}
          disabled={!network || allow.busy}
          onChange={(event) => void allow.run({ allowed: event.target.checked })}
        />
        <span>
          <strong>Allow meters on the network</strong>{' '}
          <span className="soft">Serial device servers, entered under Other as tcp://host:port</span>
        </span>
      </label>
      <StatusWord tone={allowed ? 'warning' : 'plain'} shape={allowed ? 'diamond' : 'hollow-square'}>
        {allowed ? 'On: network connections are allowed' : 'Off: nothing leaves this computer'}
      </StatusWord>
      {allowed && (
        <p className="soft">
          Readings and polls are not encrypted: anyone on that network can read them, or forge a reading.
        </p>
      )}
      {allow.fault && <Notice tone="bad" text={allow.fault.message} />}
    </Panel>
  );
}
