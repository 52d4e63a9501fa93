import type { Command } from 'commander';
import type { PortDetection, PortInfo } from '../../../shared/contract/api.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { checkProfile } from '../../../shared/instruments/check-profile.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import { listSerialPorts } from '../../host/acquire/ports/list-ports.ts';
import { detectMeters } from '../../host/acquire/detect/detect-meters.ts';
import { portOpener } from '../../host/acquire/ports/open-port.ts';
import type { Status } from '../output.ts';
import { columns, print, printJson, printMessage, printFault } from '../output.ts';
import { allowNetworkHelp, missingStore, openHost, neverAborted, withStoreOption } from '../captures/open-store.ts';
import type { StoreOptions } from '../captures/open-store.ts';
import { stopRequest } from '../recording/stop-request.ts';

interface Options extends StoreOptions {
  json?: boolean;
  listen: boolean;
  allowNetwork?: boolean;
}

export const describe = (command: Command): Command =>
  withStoreOption(command)
    .description(
      'Lists the serial ports of this computer and listens to each for a moment, to detect the speed, the format of the lines and the profile that reads them. It only listens: nothing is written to any port, so a meter that must be polled stays silent.',
    )
    .argument('[port...]', 'listen only to these ports: their names, or tcp://host:port')
    .option('--json', 'print one line of JSON per port')
    .option('--no-listen', 'only list the ports')
    .option('--allow-network', allowNetworkHelp);

export async function run(given: string[], options: Options): Promise<Status> {
  const ports = await portsOf(given);
  const detections = options.listen && ports.length > 0 ? await listen(ports, options) : [];
  const all = ports.map((port) => ({ ...port, detection: detections.find(({ path }) => path === port.path) }));
  if (options.json)
    for (const { path, label, detection } of all)
      printJson({ path, label, ...(detection && { heard: detectionJson(detection) }) });
  else
    for (const line of columns(all.map(({ label, detection }) => [label, detection ? detectionText(detection) : ''])))
      print(line);
  return 0;
}

async function portsOf(given: string[]): Promise<Pick<PortInfo, 'path' | 'label'>[]> {
  if (given.length > 0) return given.map((path) => ({ path, label: path }));
  const { ports, fault } = await listSerialPorts();
  if (fault) printFault(fault);
  if (ports.length === 0)
    printMessage('No serial port was found. A port that is not listed can still be given by its path.');
  return ports;
}

/** The built-in profiles and, where there is a store, the user's own; no store is created for this. */
async function knownProfiles(options: Options): Promise<readonly Profile[]> {
  if (missingStore(options)) return builtInProfiles;
  const host = await openHost(options);
  if (!host.ok) {
    printFault(host.fault);
    return builtInProfiles;
  }
  const listed = await host.value.handlers['profiles.list']({}, neverAborted);
  await host.value.close();
  if (!listed.ok) printFault(listed.fault);
  if (!listed.ok) return builtInProfiles;
  // A profile that was saved before a rule was added and breaks it cannot be used.
  return listed.value.flatMap(({ profile }) => {
    const checked = checkProfile(profile, profile.name);
    return checked.ok ? [checked.value] : [];
  });
}

/** The detections when all are done, or Ctrl-C was pressed. */
async function listen(ports: Pick<PortInfo, 'path'>[], options: Options): Promise<PortDetection[]> {
  const stopping = new AbortController();
  void stopRequest().requested.then(() => stopping.abort());
  const profiles = await knownProfiles(options);
  let detections: PortDetection[] = [];
  for await (detections of detectMeters(
    ports.map(({ path }) => path),
    {
      openPort: portOpener(() => options.allowNetwork ?? false),
      profiles,
      signal: stopping.signal,
      meterOn: () => undefined,
    },
  ));
  return detections;
}

function detectionText({ says, fits = [] }: PortDetection): string {
  const [best, ...others] = fits.map(({ profile, kept }) => `"${profile.name}"${kept ? '' : ' (to be saved first)'}`);
  if (best === undefined) return says;
  return `${says}; matching profile ${best}${others.length > 0 ? `, or one of ${others.length} others` : ''}`;
}

/** A detection for programs; profiles only by name, which `record` accepts. */
const detectionJson = ({ path: _path, serial, fits, ...detection }: PortDetection) => ({
  ...detection,
  ...(serial && { baudRate: serial.baudRate, serial }),
  ...(fits && { fits: fits.map(({ profile, kept }) => ({ profile: profile.name, kept })) }),
});
