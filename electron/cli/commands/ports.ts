import type { Command } from 'commander';
import type { PortDetection, PortInfo } from '../../../shared/contract/api.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { checkProfile } from '../../../shared/instruments/check-profile.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import { listSerialPorts } from '../../host/acquire/ports/list-ports.ts';
import { detectMeters } from '../../host/acquire/detect/detect-meters.ts';
import { portOpener } from '../../host/acquire/ports/open-port.ts';
import type { Status } from '../output.ts';
import { columns, print, printJson, say, sayFault } from '../output.ts';
import { allowNetworkSays, missingStore, openHost, untilDone, withStore } from '../captures/open-store.ts';
import type { StoreOptions } from '../captures/open-store.ts';
import { stopRequest } from '../recording/stop-request.ts';

interface Options extends StoreOptions {
  json?: boolean;
  listen: boolean;
  allowNetwork?: boolean;
}

export const describe = (command: Command): Command =>
  withStore(command)
    .description(
      'Lists the serial ports of this computer and listens to each for a moment: at which speed it sends, what its lines look like, and which profile reads them. It only listens: nothing is written to any port, so a meter that waits to be asked stays silent.',
    )
    .argument('[port...]', 'listen to these only: names of ports, or tcp://host:port')
    .option('--json', 'one line of JSON per port')
    .option('--no-listen', 'only list them')
    .option('--allow-network', allowNetworkSays);

export async function run(given: string[], options: Options): Promise<Status> {
  const ports = await portsOf(given);
  const heard = options.listen && ports.length > 0 ? await listen(ports, options) : [];
  const both = ports.map(({ path, label }) => ({ path, label, heard: heard.find((one) => one.path === path) }));
  if (options.json)
    for (const { heard: one, ...port } of both) printJson({ ...port, ...(one && { heard: json(one) }) });
  else for (const line of columns(both.map(({ label, heard: one }) => [label, one ? inWords(one) : '']))) print(line);
  return 0;
}

async function portsOf(given: string[]): Promise<Pick<PortInfo, 'path' | 'label'>[]> {
  if (given.length > 0) return given.map((path) => ({ path, label: path }));
  const { ports, fault } = await listSerialPorts();
  if (fault) sayFault(fault);
  if (ports.length === 0) say('No serial port was found. A port that is not listed can still be given by its path.');
  return ports;
}

/** The built-in profiles and, where there is a store, the user's own; none is made for this. */
async function knownProfiles(options: Options): Promise<readonly Profile[]> {
  if (missingStore(options)) return builtInProfiles;
  const host = await openHost(options);
  if (!host.ok) {
    sayFault(host.fault);
    return builtInProfiles;
  }
  const listed = await host.value.handlers['profiles.list']({}, untilDone);
  await host.value.close();
  if (!listed.ok) sayFault(listed.fault);
  if (!listed.ok) return builtInProfiles;
  // One that was kept before a rule came and is refused by it reads nothing.
  return listed.value.flatMap(({ profile }) => {
    const checked = checkProfile(profile, profile.name);
    return checked.ok ? [checked.value] : [];
  });
}

/** What was heard when all had been listened to, or Ctrl-C was pressed. */
async function listen(ports: Pick<PortInfo, 'path'>[], options: Options): Promise<PortDetection[]> {
  const stopping = new AbortController();
  void stopRequest().requested.then(() => stopping.abort());
  const profiles = await knownProfiles(options);
  let heard: PortDetection[] = [];
  for await (heard of detectMeters(
    ports.map(({ path }) => path),
    {
      openPort: portOpener(() => options.allowNetwork ?? false),
      profiles,
      signal: stopping.signal,
      meterOn: () => undefined,
    },
  ));
  return heard;
}

function inWords({ says, fits = [] }: PortDetection): string {
  const [best, ...others] = fits.map(({ profile, kept }) => `"${profile.name}"${kept ? '' : ' (to be made)'}`);
  if (best === undefined) return says;
  return `${says}; fits ${best}${others.length > 0 ? `, or one of ${others.length} more` : ''}`;
}

/** The fields for programs; names of profiles are enough there, as `record` takes them by name. */
const json = ({ path: _path, serial, fits, ...heard }: PortDetection) => ({
  ...heard,
  ...(serial && { baudRate: serial.baudRate, serial }),
  ...(fits && { fits: fits.map(({ profile, kept }) => ({ profile: profile.name, kept })) }),
});
