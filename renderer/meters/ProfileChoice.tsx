import type { Profile } from '../../shared/model/profile.ts';
import type { CallOutput } from '../state/host-calls.ts';
import { FieldFrame } from '../ui/controls/Field.tsx';
import { profileSummary } from './profile-summary.ts';
import { writtenRequests } from './written-requests.ts';

/** Chooses how a meter is connected and read, and says before connecting what will be written to the port. */
export function ProfileChoice({
  profiles,
  chosen,
  port,
  onChoose,
}: {
  profiles: CallOutput<'profiles.list'>;
  chosen: Profile | undefined;
  /** The port that would be connected; empty while none is chosen. */
  port: string;
  onChoose: (name: string) => void;
}) {
  return (
    <>
      <FieldFrame name="Profile" help={chosen && profileSummary(chosen)}>
        {({ input, describedBy }) => (
          <select
            id={input}
            aria-describedby={describedBy}
            value={chosen?.name ?? ''}
            onChange={(event) => onChoose(event.target.value)}
          >
            {profiles.map(({ profile: { name }, builtIn }) => (
              <option key={name} value={name}>
                {name}
                {builtIn ? '' : ' (yours)'}
              </option>
            ))}
          </select>
        )}
      </FieldFrame>
      {chosen && <Written profile={chosen} port={port} />}
    </>
  );
}

/** What will be written, in words and bytes, and how often. */
function Written({ profile, port }: { profile: Profile; port: string }) {
  const requests = writtenRequests(profile);
  if (requests.length === 0) return <p className="soft">Nothing will be written to the port.</p>;
  return (
    <div className="stack">
      <strong>
        Will be written to {port || 'the port'} every {profile.poll!.everyMs} ms:
      </strong>
      {requests.map(({ words, bytes }) => (
        <span key={`${words} ${bytes}`}>
          {words} (bytes <code>{bytes}</code>)
        </span>
      ))}
    </div>
  );
}
