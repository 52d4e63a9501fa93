import { useState, type RefObject } from 'react';
import type { MeterState, PortInfo } from '../../shared/contract/api.ts';
import type { Role } from '../../shared/model/reading.ts';
import { practicePorts } from '../../shared/practice/bench.ts';
import { useHostAction, useHostQuery } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { FieldFrame } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Announce, Notice } from '../ui/Notice.tsx';
import type { Detection } from './detection.ts';
import { matchesOf } from './matching-profiles.ts';
import type { Fit } from './matching-profiles.ts';
import { PortRow } from './PortRow.tsx';
import { profileSummary } from './profile-summary.ts';

const typedPort = 'typed';

/** Which practice meter speaks which profile is known; a serial port does not say. */
const practiceProfiles = new Map<string, string>(
  Object.values(practicePorts).map(({ port, profile }) => [port, profile] as const),
);

/** Listen to what the ports say and take what fits; or choose or type a port, choose how its lines read, connect. */
export function ConnectMeter({
  meters,
  listening,
  listenButton,
}: {
  meters: readonly MeterState[];
  listening: Detection;
  /** Begins and stops the listening; what is heard shows below it. */
  listenButton: RefObject<HTMLButtonElement | null>;
}) {
  const { data: found, fault: listFault, again, busy } = useHostQuery('ports.list', {});
  const { data: profiles } = useHostQuery('profiles.list', {});
  const { data: network } = useHostQuery('network.get', {});
  const connect = useHostAction('meters.connect');
  const save = useHostAction('profiles.save', ['profiles.list']);
  const [choice, setChoice] = useState('');
  const [path, setPath] = useState('');
  const [profileName, setProfileName] = useState('');

  const trouble = listFault ?? found?.fault;
  const isTaken = (one: string) => meters.some((meter) => meter.port === one);
  const heardOn = (one: string) => listening.heard.find((heard) => heard.path === one);
  const listed = found?.ports ?? [];
  // A port that was typed and listened to stands in the list from then on.
  const typed = listening.heard
    .filter((heard) => !listed.some((one) => one.path === heard.path))
    .map((heard): PortInfo => ({ path: heard.path, label: heard.path, kind: 'serial' }));
  const free = [...listed, ...typed].filter((one) => !isTaken(one.path));
  const port = choice === typedPort ? path.trim() : free.some((one) => one.path === choice) ? choice : '';
  const profile = profiles?.find((one) => one.profile.name === profileName)?.profile ?? profiles?.[0]?.profile;

  const taken = new Set<Role>(
    meters.flatMap((meter) => {
      const own = profiles?.find((one) => one.profile.name === meter.profile)?.profile;
      return own?.channels.map(({ role }) => role) ?? [];
    }),
  );
  const offersOn = (one: string) => {
    const fits = heardOn(one)?.fits ?? [];
    const own = practiceProfiles.get(one);
    return matchesOf(own === undefined ? fits : fits.filter(({ profile }) => profile.name === own), taken);
  };
  const choose = (next: string) => {
    setChoice(next);
    const fits = offersOn(next).find(({ kept }) => kept)?.profile.name;
    setProfileName(practiceProfiles.get(next) ?? fits ?? profileName);
  };
  const connectTo = async (to: string, name: string) => {
    // Else the port would be busy with ourselves.
    if (heardOn(to)?.status === 'listening') listening.stop();
    await connect.run({ port: to, profile: name });
  };
  const connectAs = async (to: string, { profile: fitting, kept }: Fit) => {
    if (kept || (await save.run({ profile: fitting }))) await connectTo(to, fitting.name);
  };
  const listen = () => {
    const all = [...free.map((one) => one.path), ...(path.trim() && !isTaken(path.trim()) ? [path.trim()] : [])];
    listening.start([...new Set(all)]);
  };

  const sending = listening.heard.filter(({ status }) => status === 'lines').length;
  const refused = connect.fault ?? save.fault ?? listening.fault;
  return (
    <Panel name="Connect a meter">
      {listening.busy ? (
        <Button ref={listenButton} size="large" onClick={listening.stop}>
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
        Hears which ports send, and how. Nothing is written: a meter that waits to be asked stays silent.
      </p>
      <Announce
        text={
          listening.busy
            ? 'Listening'
            : listening.heard.length > 0
              ? `Listened: ${sending} of ${listening.heard.length} ports send lines`
              : ''
        }
      />
      {trouble && <Notice tone="doubt" text={trouble.message} />}
      <fieldset className="port-list">
        <legend className="heard">Port</legend>
        {free.map((one) => (
          <PortRow
            key={one.path}
            port={one}
            heard={heardOn(one.path)}
            offers={offersOn(one.path)}
            chosen={choice === one.path}
            busy={connect.busy || save.busy}
            onChoose={() => choose(one.path)}
            onConnect={(fit) => void connectAs(one.path, fit)}
          />
        ))}
        <label className="port-choice">
          <input type="radio" name="port" checked={choice === typedPort} onChange={() => choose(typedPort)} />
          <span className="port-typed">
            Other
            <input
              className="input"
              aria-label="Path of the port"
              placeholder={network?.allowed ? 'COM3, /dev/ttyUSB0 or tcp://host:port' : 'COM3 or /dev/ttyUSB0'}
              value={path}
              onFocus={() => choose(typedPort)}
              onChange={(event) => setPath(event.target.value)}
            />
          </span>
        </label>
      </fieldset>
      <FieldFrame name="Profile" help={profile && profileSummary(profile)}>
        {({ input, describedBy }) => (
          <select
            id={input}
            aria-describedby={describedBy}
            value={profile?.name ?? ''}
            onChange={(event) => setProfileName(event.target.value)}
          >
            {profiles?.map(({ profile: { name }, builtIn }) => (
              <option key={name} value={name}>
                {name}
                {builtIn ? '' : ' (own)'}
              </option>
            ))}
          </select>
        )}
      </FieldFrame>
      {refused && <Notice tone="bad" text={refused.message} />}
      <div className="row">
        <Button
          kind="main"
          disabled={!port || !profile || connect.busy}
          onClick={() => void connectTo(port, profile!.name)}
        >
          Connect
        </Button>
        <Button onClick={() => void again()} disabled={busy}>
          Look for ports again
        </Button>
      </div>
    </Panel>
  );
}
