import { isDeepStrictEqual } from 'node:util';
import { InvalidArgumentError } from 'commander';
import { readProfile } from '../../../shared/instruments/profile-file.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import type { Role } from '../../../shared/model/reading.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { ok } from '../../../shared/model/outcome.ts';
import type { Host } from '../../host/host.ts';
import { kindOf, readText } from '../captures/files.ts';
import { CallError, say } from '../output.ts';
import { untilDone } from '../captures/open-store.ts';

export interface Instrument {
  port: string;
  /** A profile's name, or the path of a JSON file. */
  profile: string;
}

/** "PORT=PROFILE", split at the first "=": ports have none in their names. */
export function parseInstrument(text: string): Instrument {
  const at = text.indexOf('=');
  const port = text.slice(0, at).trim();
  const profile = text.slice(at + 1).trim();
  if (at < 0 || port === '' || profile === '')
    throw new InvalidArgumentError('Give PORT=PROFILE, such as "/dev/ttyUSB0=Manometer, one number a line".');
  return { port, profile };
}

/** An instrument whose profile was found. */
interface Found extends Instrument {
  name: string;
  gives: Role[];
  /** The profile, when it came from a file. */
  own?: Profile;
}

const foundAs = ({ name, channels }: Pick<Profile, 'name'> & { channels: { role: Role }[] }) => ({
  name,
  gives: channels.map(({ role }) => role),
});

/**
 * The instruments with every profile known to the host by its name: files are read, checked and kept as the user's own.
 * Fails with what is wrong in a file; a name that nobody knows is a wrong call, and so are two that cannot be recorded together.
 */
export async function registerProfiles(host: Host, instruments: Instrument[]): Promise<Outcome<Instrument[]>> {
  const listed = await host.handlers['profiles.list']({}, untilDone);
  if (!listed.ok) return listed;
  const known = new Map(listed.value.map(({ profile }) => [profile.name, profile]));
  const all: Found[] = [];
  for (const instrument of instruments) {
    const kept = known.get(instrument.profile);
    if (kept) {
      all.push({ ...instrument, ...foundAs(kept) });
      continue;
    }
    const own = await profileInFile(instrument.profile, [...known.keys()]);
    if (!own.ok) return own;
    all.push({ ...instrument, ...foundAs(own.value), own: own.value });
  }
  refuseClashes(all);
  for (const { own } of all) {
    const saved = own ? await host.handlers['profiles.save']({ profile: own }, untilDone) : ok({});
    if (!saved.ok) return saved;
  }
  return ok(all.map(({ port, name }) => ({ port, profile: name })));
}

/** The profile in a file; a name that is neither a file's nor one of those that are `known` is a wrong call. */
async function profileInFile(name: string, known: string[]): Promise<Outcome<Profile>> {
  const file = await kindOf(name);
  if (!file.ok && !/\.json$/iu.test(name))
    throw new CallError(
      `there is no instrument profile called "${name}". There are:\n${known.map((one) => `  ${one}`).join('\n')}\nor give a JSON file`,
    );
  const text = await readText(name);
  if (!text.ok) return text;
  const read = readProfile({ file: name, text: text.value });
  if (!read.ok) return read;
  for (const notice of read.value.notices) say(notice);
  return ok(read.value.profile);
}

/**
 * A wrong call when two instruments are on one port, measure the same, or come with profiles of which one would replace the other:
 * told before any port is opened.
 */
function refuseClashes(all: Found[]): void {
  for (const [place, one] of all.entries())
    for (const other of all.slice(0, place)) {
      const both = `${asGiven(other)} and ${asGiven(one)}`;
      if (one.port === other.port) throw new CallError(`${both} are on the same port; give each port once`);
      if (one.own && other.own && one.name === other.name && !isDeepStrictEqual(one.own, other.own))
        throw new CallError(`${both} are different profiles of the same name, "${one.name}"; rename one of them`);
      const shared = one.gives.find((role) => other.gives.includes(role));
      if (shared) throw new CallError(`${both} both give ${shared}; leave one of them out`);
    }
}

const asGiven = ({ port, profile }: Instrument): string => `--instrument "${port}=${profile}"`;
