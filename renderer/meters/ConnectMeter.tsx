import { useState, type RefObject } from 'react';
import type { MeterState, PortInfo } from '../../shared/contract/api.ts';
import type { Role } from '../../shared/model/reading.ts';
import { practicePorts } from '../../shared/practice/bench-meters.ts';
import { useHostAction, useHostQuery } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Announce, Notice } from '../ui/Notice.tsx';
import type { Detection } from './detection.ts';
import { profileMatches } from './matching-profiles.ts';
import type { ProfileMatch } from './matching-profiles.ts';
import { PortRow } from './PortRow.tsx';
import { ProfileChoice } from './ProfileChoice.tsx';

const typedPort = 'typed';

/** The profiles of the practice meters, which are known; a serial port does not identify its meter. */
const practiceProfiles = new Map<string, string>(
  Object.values(practicePorts).map(({ port, profile }) => [port, profile] as const),
);

/** Connects a meter: listen to the ports and take a matching profile, or choose or type a port and choose a profile. */
export function ConnectMeter({
  meters,
  detection,
  listenButton,
}: {
  meters: readonly MeterState[];
  detection: Detection;
  /** Starts and stops the detection; its results show below. */
  listenButton: RefObject<HTMLButtonElement | null>;
}) {
  const { data: found, fault: listFault, refetch, busy } = useHostQuery('ports.list', {});
  const { data: profiles } = useHostQuery('profiles.list', {});
  const { data: network } = useHostQuery('network.get', {});
  const connect = useHostAction('meters.connect');
  const save = useHostAction('profiles.save', ['profiles.list']);
  const [choice, setChoice] = useState('');
  const [path, setPath] = useState('');
  const [profileName, setProfileName] = useState('');

  const portsFault = listFault ?? found?.fault;
  const isConnected = (one: string) => meters.some((meter) => meter.port === one);
  const detectedOn = (one: string) => detection.results.find((result) => result.path === one);
  const listed = found?.ports ?? [];
  // A port that was typed and listened to stays in the list.
  const typed = detection.results
    .filter((result) => !listed.some((one) => one.path === result.path))
    .map((result): PortInfo => ({ path: result.path, label: result.path, kind: 'serial' }));
  const free = [...listed, ...typed].filter((one) => !isConnected(one.path));
  const port = choice === typedPort ? path.trim() : free.some((one) => one.path === choice) ? choice : '';
  const profile = profiles?.find((one) => one.profile.name === profileName)?.profile ?? profiles?.[0]?.profile;

  const connectedRoles = new Set<Role>(
    meters.flatMap((meter) => {
      const own = profiles?.find((one) => one.profile.name === meter.profile)?.profile;
      return own?.channels.map(({ role }) => role) ?? [];
    }),
  );
  const matchesOn = (one: string) => {
    const matches = detectedOn(one)?.fits ?? [];
    const own = practiceProfiles.get(one);
    return profileMatches(
      own === undefined ? matches : matches.filter(({ profile }) => profile.name === own),
      connectedRoles,
    );
  };
  const canConnect = port !== '' && profile !== undefined && !connect.busy;
  const choose = (next: string) => {
    setChoice(next);
    const match = matchesOn(next).find(({ kept }) => kept)?.profile.name;
    setProfileName(practiceProfiles.get(next) ?? match ?? profileName);
  };
  const connectTo = async (to: string, name: string) => {
    // Else our own detection would keep the port busy.
    if (detectedOn(to)?.status === 'listening') detection.stop();
    await connect.run({ port: to, profile: name });
  };
  const connectChosen = () => {
    if (canConnect) void connectTo(port, profile.name);
  };
  const connectAs = async (to: string, { profile: matching, kept }: ProfileMatch) => {
    if (kept || (await save.run({ profile: matching }))) await connectTo(to, matching.name);
  };
  const listen = () => {
    const all = [...free.map((one) => one.path), ...(path.trim() && !isConnected(path.trim()) ? [path.trim()] : [])];
    detection.start([...new Set(all)]);
  };

  const sending = detection.results.filter(({ status }) => status === 'lines').length;
  const fault = connect.fault ?? save.fault ?? detection.fault;
  return (
    <Panel name="Connect a meter">
      {detection.busy ? (
        <Button ref={listenButton} size="large" onClick={detection.stop}>
          Stop listening
        </Button>
      ) : (
        <Button
          ref={listenButton}
          kind={port ? 'plain' : 'main'}
          size="large"
          disabled={free.length === 0 && path.trim() === ''}
          onClick={listen}
        >
          Listen
        </Button>
      )}
      <p className="soft">
        Finds the ports that send readings and how to read them. Nothing is sent to any port, so a meter that must be
        polled stays silent.
      </p>
      <Announce
        text={
          detection.busy
            ? 'Listening'
            : detection.results.length > 0
              ? `Finished listening: ${sending} of ${detection.results.length} ports send readings`
              : ''
        }
      />
      {portsFault && <Notice tone="warning" text={portsFault.message} />}
      {/* A list that came later would push the typed port away under a hand. */}
      {found || listFault ? (
        <fieldset className="port-list">
          <legend className="visually-hidden">Port</legend>
          {free.map((one) => (
            <PortRow
              key={one.path}
              port={one}
              detected={detectedOn(one.path)}
              matches={matchesOn(one.path)}
              chosen={choice === one.path}
              busy={connect.busy || save.busy}
              onChoose={() => choose(one.path)}
              onConnect={(match) => void connectAs(one.path, match)}
            />
          ))}
          <label className="port-choice">
            <input type="radio" name="port" checked={choice === typedPort} onChange={() => choose(typedPort)} />
            <span className="port-typed">
              Other
              <input
                className="input"
                aria-label="Port name"
                placeholder={network?.allowed ? 'COM3, /dev/ttyUSB0 or tcp://host:port' : 'COM3 or /dev/ttyUSB0'}
                value={path}
                onFocus={() => choose(typedPort)}
                onChange={(event) => setPath(event.target.value)}
                onKeyDown={(event) => {
                  if (event.key === 'Enter') connectChosen();
                }}
              />
            </span>
          </label>
        </fieldset>
      ) : (
        <p>Looking for ports</p>
      )}
      <ProfileChoice profiles={profiles ?? []} chosen={profile} port={port} onChoose={setProfileName} />
      {fault && <Notice tone="bad" text={fault.message} />}
      <div className="row">
        <Button kind="main" disabled={!canConnect} onClick={connectChosen}>
          Connect
        </Button>
        <Button onClick={() => void refetch()} disabled={busy}>
          Refresh port list
        </Button>
      </div>
    </Panel>
  );
}
