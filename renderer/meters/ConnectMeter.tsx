import { useState } from 'react';
import { practicePorts } from '../../shared/practice/bench.ts';
import { useAct, useAsked } from '../state/ask.ts';
import { Button } from '../ui/Button.tsx';
import { FieldFrame } from '../ui/Field.tsx';
import { Plate } from '../ui/Plate.tsx';
import { Say } from '../ui/Say.tsx';
import { profileSays } from './profile-says.ts';

const typedPort = 'typed';

/** Which practice meter speaks which profile is known; a serial port does not say. */
const practiceProfiles = new Map<string, string>(
  Object.values(practicePorts).map(({ port, profile }) => [port, profile] as const),
);

/** Choose or type a port, choose how its lines read, connect. */
export function ConnectMeter({ taken }: { taken: readonly string[] }) {
  const { data: found, fault: listFault, again, busy } = useAsked('ports.list', {});
  const { data: profiles } = useAsked('profiles.list', {});
  const connect = useAct('meters.connect');
  const [choice, setChoice] = useState('');
  const [path, setPath] = useState('');
  const [profileName, setProfileName] = useState('');

  const trouble = listFault ?? found?.fault;
  const free = (found?.ports ?? []).filter((port) => !taken.includes(port.path));
  const port = choice === typedPort ? path.trim() : free.some((one) => one.path === choice) ? choice : '';
  const profile = profiles?.find((one) => one.profile.name === profileName)?.profile ?? profiles?.[0]?.profile;
  const choose = (next: string) => {
    setChoice(next);
    setProfileName(practiceProfiles.get(next) ?? profileName);
  };

  return (
    <Plate name="Connect a meter">
      {trouble && <Say tone="doubt" text={trouble.message} />}
      <fieldset className="port-list">
        <legend className="heard">Port</legend>
        {free.map(({ path, label, kind }) => (
          <label key={path} className="port-choice">
            <input type="radio" name="port" checked={choice === path} onChange={() => choose(path)} />
            <span>
              <code>{path}</code> {kind === 'practice' && <strong>PRACTICE</strong>}{' '}
              <span className="soft">{label === path ? '' : label}</span>
            </span>
          </label>
        ))}
        <label className="port-choice">
          <input type="radio" name="port" checked={choice === typedPort} onChange={() => choose(typedPort)} />
          <span className="port-typed">
            Other
            <input
              className="input"
              aria-label="Path of the port"
              placeholder="COM3 or /dev/ttyUSB0"
              value={path}
              onFocus={() => choose(typedPort)}
              onChange={(event) => setPath(event.target.value)}
            />
          </span>
        </label>
      </fieldset>
      <FieldFrame name="Profile" help={profile && profileSays(profile)}>
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
      {connect.fault && <Say tone="bad" text={connect.fault.message} />}
      <div className="row">
        <Button
          kind="main"
          disabled={!port || !profile || connect.busy}
          onClick={() => void connect.run({ port, profile: profile!.name })}
        >
          Connect
        </Button>
        <Button onClick={() => void again()} disabled={busy}>
          Look for ports again
        </Button>
      </div>
    </Plate>
  );
}
