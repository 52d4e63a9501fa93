import type { PortDetection, PortInfo } from '../../shared/contract/api.ts';
import { isNetworkPort } from '../../shared/model/ports/network-port.ts';
import { Button } from '../ui/controls/Button.tsx';
import { StatusWord, type Tone } from '../ui/StatusWord.tsx';
import type { ProfileMatch } from './matching-profiles.ts';

const words: Record<PortDetection['status'], { word: string; tone: Tone }> = {
  listening: { word: 'Listening', tone: 'plain' },
  connected: { word: 'Connected', tone: 'good' },
  silent: { word: 'Silent', tone: 'warning' },
  lines: { word: 'Sending', tone: 'good' },
  unreadable: { word: 'Unreadable', tone: 'bad' },
  unavailable: { word: 'Cannot be opened', tone: 'bad' },
};

/** One port: what the system knows of it, what was detected on it, and a button for each matching profile. */
export function PortRow({
  port: { path, kind, adapter, serialNumber, label },
  detected,
  matches,
  chosen,
  busy,
  onChoose,
  onConnect,
}: {
  port: PortInfo;
  detected: PortDetection | undefined;
  matches: readonly ProfileMatch[];
  chosen: boolean;
  busy: boolean;
  onChoose: () => void;
  onConnect: (match: ProfileMatch) => void;
}) {
  const known = [adapter, serialNumber && `serial number ${serialNumber}`].filter(Boolean).join(', ');
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
      {detected && (
        <div className="port-detected">
          <StatusWord tone={words[detected.status].tone}>{words[detected.status].word}</StatusWord>
          {detected.status !== 'silent' && <span className="soft">{detected.says}</span>}
        </div>
      )}
      {matches.length > 1 && <p className="soft port-which">Which meter is it?</p>}
      {matches.length > 0 && (
        <div className="port-matches">
          {matches.map((match) => (
            <Button
              key={match.profile.name}
              kind={matches.length === 1 ? 'main' : 'plain'}
              disabled={busy}
              onClick={() => onConnect(match)}
            >
              Connect as {match.profile.name}
            </Button>
          ))}
        </div>
      )}
    </div>
  );
}

/** Marks a port whose data come over the network. */
export const NetworkMark = () => (
  <StatusWord tone="warning" shape="diamond">
    Over the network
  </StatusWord>
);
