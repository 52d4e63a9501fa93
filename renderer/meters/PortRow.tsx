import type { Heard, PortInfo } from '../../shared/contract/api.ts';
import { isNetworkPort } from '../../shared/model/network-port.ts';
import { Button } from '../ui/controls/Button.tsx';
import { StatusWord, type Tone } from '../ui/StatusWord.tsx';
import type { Fit } from './matching-profiles.ts';

const words: Record<Heard['status'], { word: string; tone: Tone }> = {
  listening: { word: 'Listening', tone: 'plain' },
  connected: { word: 'Connected', tone: 'good' },
  silent: { word: 'Silent', tone: 'doubt' },
  lines: { word: 'Sends', tone: 'good' },
  unreadable: { word: 'Not readable', tone: 'bad' },
  unavailable: { word: 'Cannot be opened', tone: 'bad' },
};

/** One port: what the system knows of it, what is heard on it, and the profiles that read that, each one touch away. */
export function PortRow({
  port: { path, kind, adapter, serialNumber, label },
  heard,
  offers,
  chosen,
  busy,
  onChoose,
  onConnect,
}: {
  port: PortInfo;
  heard: Heard | undefined;
  offers: readonly Fit[];
  chosen: boolean;
  busy: boolean;
  onChoose: () => void;
  onConnect: (fit: Fit) => void;
}) {
  const known = [adapter, serialNumber && `no. ${serialNumber}`].filter(Boolean).join(', ');
  return (
    <div className="port">
      <label className="port-choice">
        <input type="radio" name="port" checked={chosen} onChange={onChoose} />
        <span>
          <code>{path}</code> {kind === 'practice' && <strong>PRACTICE</strong>}{' '}
          {isNetworkPort(path) && <NetworkMark />}{' '}
          <span className="soft">{known || (label === path ? '' : label)}</span>
        </span>
      </label>
      {heard && (
        <div className="port-heard">
          <StatusWord tone={words[heard.status].tone}>{words[heard.status].word}</StatusWord>
          {heard.status !== 'silent' && <span className="soft">{heard.says}</span>}
        </div>
      )}
      {offers.length > 1 && <p className="soft port-which">Which meter is it?</p>}
      {offers.length > 0 && (
        <div className="port-offers">
          {offers.map((fit) => (
            <Button
              key={fit.profile.name}
              kind={offers.length === 1 ? 'main' : 'plain'}
              disabled={busy}
              onClick={() => onConnect(fit)}
            >
              Connect as {fit.profile.name}
            </Button>
          ))}
        </div>
      )}
    </div>
  );
}

/** The mark of a port whose data come over the network. */
export const NetworkMark = () => (
  <StatusWord tone="doubt" shape="diamond">
    Over the network
  </StatusWord>
);
