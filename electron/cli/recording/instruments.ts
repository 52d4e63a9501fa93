import { isDeepStrictEqual } from 'node:util';
import { InvalidArgumentError } from 'commander';
import { readProfile } from '../../../shared/instruments/profile-file.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import type { Role } from '../../../shared/model/reading.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { ok } from '../../../shared/model/outcome.ts';
import type { Host } from '../../host/host.ts';
import { kindOf, readText } from '../captures/files.ts';
import { neverAborted } from '../captures/open-store.ts';
import { CallError, printMessage } from '../output.ts';

export interface Instrument {
  port: string;
  /** A profile's name, or the path of a JSON file. */
  profile: string;
}

/** Parses "PORT=PROFILE", split at the first "=": ports have none in their names. Throws commander's InvalidArgumentError. */
export function parseInstrument(text: string): Instrument {
  const at = text.indexOf('=');
  const port = text.slice(0, at).trim();
  const profile = text.slice(at + 1).trim();
  if (at < 0 || port === '' || profile === '')
    throw new InvalidArgumentError('Give PORT=PROFILE, such as "/dev/ttyUSB0=Manometer, one number a line".');
  return { port, profile };
}

/** An instrument whose profile was found. */
interface ResolvedInstrument extends Instrument {
  /** Of the profile. */
  name: string;
  roles: Role[];
  /** The profile, when it came from a file. */
  fromFile?: Profile;
}

const nameAndRoles = ({ name, channels }: Pick<Profile, 'name'> & { channels: { role: Role }[] }) => ({
  name,
  roles: channels.map(({ role }) => role),
});

/**
 * The instruments with the names of their profiles, which the host then knows: those in files are read, checked and saved as the user's
 * own. Fails with the faults of a file; throws `CallError` for an unknown name and for two instruments that cannot be recorded together.
 */
export async function registerProfiles(host: Host, instruments: Instrument[]): Promise<Outcome<Instrument[]>> {
  const listed = await host.handlers['profiles.list']({}, neverAborted);
  if (!listed.ok) return listed;
  const known = new Map(listed.value.map(({ profile }) => [profile.name, profile]));
  const all: ResolvedInstrument[] = [];
  for (const instrument of instruments) {
    const profile = known.get(instrument.profile);
    if (profile) {
      all.push({ ...instrument, ...nameAndRoles(profile) });
      continue;
    }
    const fromFile = await profileInFile(instrument.profile, [...known.keys()]);
    if (!fromFile.ok) return fromFile;
    all.push({ ...instrument, ...nameAndRoles(fromFile.value), fromFile: fromFile.value });
  }
  rejectConflicts(all);
  for (const { fromFile } of all) {
    const saved = fromFile ? await host.handlers['profiles.save']({ profile: fromFile }, neverAborted) : ok({});
    if (!saved.ok) return saved;
  }
  return ok(all.map(({ port, name }) => ({ port, profile: name })));
}

/** The profile in a file. Throws `CallError` for a name that is neither a file nor one of the `known` profiles. */
async function profileInFile(name: string, known: string[]): Promise<Outcome<Profile>> {
  const file = await kindOf(name);
  if (!file.ok && !/\.json$/iu.test(name))
    throw new CallError(
      `there is no instrument profile called "${name}". Profiles:\n${known.map((one) => `  ${one}`).join('\n')}\nor give a JSON file`,
    );
  const text = await readText(name);
  if (!text.ok) return text;
  const read = readProfile({ file: name, text: text.value });
  if (!read.ok) return read;
  for (const notice of read.value.notices) printMessage(notice);
  return ok(read.value.profile);
}

/**
 * Throws `CallError` when two instruments are on one port, measure the same, or have profiles of which one would replace the other:
 * before any port is opened.
 */
function rejectConflicts(all: ResolvedInstrument[]): void {
  for (const [place, one] of all.entries())
    for (const other of all.slice(0, place)) {
      const both = `${optionText(other)} and ${optionText(one)}`;
      if (one.port === other.port) throw new CallError(`${both} are on the same port; give each port once`);
      if (one.fromFile && other.fromFile && one.name === other.name && !isDeepStrictEqual(one.fromFile, other.fromFile))
        throw new CallError(`${both} are different profiles of the same name, "${one.name}"; rename one of them`);
      const shared = one.roles.find((role) => other.roles.includes(role));
      if (shared) throw new CallError(`${both} both measure ${shared}; leave one of them out`);
    }
}

const optionText = ({ port, profile }: Instrument): string => `--instrument "${port}=${profile}"`;
