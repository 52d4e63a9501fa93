import { readdir, readFile, readlink, realpath } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { SerialPort } from 'serialport';
import type { PortInfo } from '../../../../shared/contract/api.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';

type AdapterFacts = Pick<PortInfo, 'adapter' | 'serialNumber'>;

/** The serial ports of this computer, with the fault `ports-unlisted` beside those found when the system could not list them all. */
export async function listSerialPorts(): Promise<{ ports: PortInfo[]; fault?: Fault }> {
  const found = new Map<string, PortInfo>();
  const add = (path: string, facts: AdapterFacts) => {
    if (found.has(path)) return;
    const name = [facts.adapter, facts.serialNumber].filter(Boolean).join(' ');
    found.set(path, { path, label: name ? `${path} (${name})` : path, kind: 'serial', ...facts });
  };
  let unlisted: Fault | undefined;
  try {
    for (const port of await SerialPort.list()) {
      if (await isPlaceholder(port.path)) continue;
      // Only Windows gives a friendly name, with the port in it: "USB Serial Port (COM3)".
      const friendly = (port as { friendlyName?: string }).friendlyName?.replace(/\s*\(COM\d+\)$/u, '');
      const facts = adapterFacts(friendly ?? port.manufacturer, port.serialNumber);
      add(port.path, { ...facts, ...(process.platform === 'linux' && (await adapterOf(basename(port.path)))) });
    }
  } catch (error) {
    // On Linux the library runs udevadm, which small systems do not have; the device files are there all the same.
    if (process.platform !== 'linux')
      unlisted = fault('ports-unlisted', { reason: error instanceof Error ? error.message : String(error) });
  }
  if (process.platform === 'linux') for (const [path, facts] of await linuxPorts()) add(path, facts);
  return { ports: [...found.values()], ...(unlisted && { fault: unlisted }) };
}

const adapterFacts = (adapter: string | undefined, serialNumber: string | undefined): AdapterFacts => ({
  ...(adapter && { adapter }),
  ...(serialNumber && { serialNumber }),
});

async function linuxPorts(): Promise<[path: string, facts: AdapterFacts][]> {
  const names = await readdir('/dev').catch(() => []);
  const labels = await adapterNames();
  const ports: [string, AdapterFacts][] = [];
  for (const name of names.filter((entry) => /^tty(?:USB|ACM|S|AMA)\d+$|^rfcomm\d+$/.test(entry)).sort(byNumber)) {
    const path = `/dev/${name}`;
    if (await isPlaceholder(path)) continue;
    ports.push([path, { ...adapterFacts(labels.get(name), undefined), ...(await adapterOf(name)) }]);
  }
  return ports;
}

const byNumber = (a: string, b: string): number => a.localeCompare(b, 'en', { numeric: true });

/** Linux has device files for serial chips that are not fitted: those are of type 0. */
async function isPlaceholder(path: string): Promise<boolean> {
  const type = await readFile(`/sys/class/tty/${basename(path)}/type`, 'utf8').catch(() => undefined);
  return type !== undefined && path.startsWith('/dev/ttyS') && type.trim() === '0';
}

// From the port up to its USB device are the port's own folder and the interface's; one more for a hub of several ports.
const maxLevelsUp = 4;

/**
 * What the kernel knows of a USB adapter: `product`, `manufacturer` and `serial` of the USB device above the port. Read from sysfs, as
 * small systems have no udev. Empty for a port that is on no USB device.
 * @param name     of the device file, without its folder: "ttyUSB0"
 * @param classes  the kernel's folder of terminals (sysfs, Linux: Documentation/ABI/testing/sysfs-bus-usb; from memory)
 */
export async function adapterOf(name: string, classes = '/sys/class/tty'): Promise<AdapterFacts> {
  let folder = await realpath(join(classes, name, 'device')).catch(() => undefined);
  for (let up = 0; folder !== undefined && up < maxLevelsUp; up += 1, folder = dirname(folder)) {
    const [product, manufacturer, serial] = await Promise.all(
      ['product', 'manufacturer', 'serial'].map((file) => readAttribute(join(folder as string, file))),
    );
    if (product || serial) return adapterFacts([manufacturer, product].filter(Boolean).join(' '), serial);
  }
  return {};
}

const readAttribute = async (file: string): Promise<string | undefined> =>
  (await readFile(file, 'utf8').catch(() => '')).trim() || undefined;

/** The system's names of the USB adapters, by device name. */
async function adapterNames(): Promise<Map<string, string>> {
  const folder = '/dev/serial/by-id';
  const names = new Map<string, string>();
  for (const id of await readdir(folder).catch(() => [])) {
    const target = await readlink(join(folder, id)).catch(() => undefined);
    if (target) names.set(basename(target), id.replace(/^usb-/, '').replaceAll('_', ' '));
  }
  return names;
}
