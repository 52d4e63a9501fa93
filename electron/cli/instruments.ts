import { InvalidArgumentError } from 'commander';
import { readProfile } from '../../shared/instruments/profile-file.ts';
import type { Outcome } from '../../shared/model/outcome.ts';
import { ok } from '../../shared/model/outcome.ts';
import type { Host } from '../host/host.ts';
import { kindOf, readText } from './files.ts';
import { CallError, say } from './output.ts';
import { untilDone } from './store.ts';

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

/**
 * The instruments with every profile known to the host by its name: files are read, checked and kept as the user's own.
 * Fails with what is wrong in a file; a name that nobody knows is a wrong call.
 */
export async function registerProfiles(host: Host, instruments: Instrument[]): Promise<Outcome<Instrument[]>> {
  const listed = await host.handlers['profiles.list']({}, untilDone);
  if (!listed.ok) return listed;
  const known = listed.value.map(({ profile }) => profile.name);
  const named: Instrument[] = [];
  for (const { port, profile } of instruments) {
    if (known.includes(profile)) {
      named.push({ port, profile });
      continue;
    }
    const file = await kindOf(profile);
    if (!file.ok && !/\.json$/iu.test(profile))
      throw new CallError(
        `there is no instrument profile called "${profile}". There are:\n${known.map((name) => `  ${name}`).join('\n')}\nor give a JSON file`,
      );
    const text = await readText(profile);
    if (!text.ok) return text;
    const read = readProfile({ file: profile, text: text.value });
    if (!read.ok) return read;
    for (const notice of read.value.notices) say(notice);
    const saved = await host.handlers['profiles.save']({ profile: read.value.profile }, untilDone);
    if (!saved.ok) return saved;
    named.push({ port, profile: read.value.profile.name });
  }
  return ok(named);
}
