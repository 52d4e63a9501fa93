import { access, readdir, readFile, realpath } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { PortInfo } from '../../../../shared/contract/api.ts';

export type AdapterFacts = Pick<PortInfo, 'adapter' | 'serialNumber'>;

/**
 * The serial ports that the kernel knows, with what it knows of their adapters. Read from sysfs in this process: a program that is
 * started for it (udevadm) may be missing, and needs file descriptors, which a recording may have used up. One file is open at a time.
 * Throws what the file system throws, but for a system without sysfs, which has no ports.
 *
 * @param root  the root of the file system
 * Source: Linux, Documentation/ABI/testing/sysfs-tty and sysfs-bus-usb (from memory).
 */
export async function listLinuxPorts(root = '/'): Promise<[path: string, facts: AdapterFacts][]> {
  const classes = join(root, 'sys/class/tty');
  const names = await readdir(classes).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [];
    throw error;
  });
  const ports: [string, AdapterFacts][] = [];
  for (const name of names.sort((a, b) => a.localeCompare(b, 'en', { numeric: true })))
    if ((await isPort(join(classes, name), name)) && (await exists(join(root, 'dev', name))))
      ports.push([`/dev/${name}`, await adapterOf(name, classes)]);
  return ports;
}

/** Consoles and pseudo-terminals have no device; a Bluetooth port has none either. A serial chip that is not fitted is of type 0. */
async function isPort(folder: string, name: string): Promise<boolean> {
  if (/^rfcomm\d+$/u.test(name)) return true;
  if (!name.startsWith('tty') || !(await exists(join(folder, 'device')))) return false;
  return !/^ttyS\d+$/u.test(name) || (await readAttribute(join(folder, 'type'))) !== '0';
}

// From the port up to its USB device are the port's own folder and the interface's; one more for a hub of several ports.
const maxLevelsUp = 4;

/**
 * What the kernel knows of a USB adapter: maker, product and serial number of the USB device above the port; where it has no names, its
 * numbers (idVendor:idProduct). Empty for a port that is on no USB device.
 * @param name     of the device file, without its folder: "ttyUSB0"
 * @param classes  the kernel's folder of terminals
 */
export async function adapterOf(name: string, classes = '/sys/class/tty'): Promise<AdapterFacts> {
  let folder = await realpath(join(classes, name, 'device')).catch(() => undefined);
  for (let up = 0; folder !== undefined && up < maxLevelsUp; up += 1, folder = dirname(folder)) {
    const vendor = await readAttribute(join(folder, 'idVendor'));
    const product = await readAttribute(join(folder, 'product'));
    const serial = await readAttribute(join(folder, 'serial'));
    if (vendor === undefined && product === undefined && serial === undefined) continue;
    const maker = await readAttribute(join(folder, 'manufacturer'));
    const numbers = vendor && `USB ${vendor}:${(await readAttribute(join(folder, 'idProduct'))) ?? '?'}`;
    return adapterFacts([maker, product].filter(Boolean).join(' ') || numbers, serial);
  }
  return {};
}

/** Without the facts that are not known. */
export const adapterFacts = (adapter: string | undefined, serialNumber: string | undefined): AdapterFacts => ({
  ...(adapter && { adapter }),
  ...(serialNumber && { serialNumber }),
});

const readAttribute = async (file: string): Promise<string | undefined> =>
  (await readFile(file, 'utf8').catch(() => '')).trim() || undefined;

const exists = (file: string): Promise<boolean> =>
  access(file).then(
    () => true,
    () => false,
  );
