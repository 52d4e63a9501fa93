import { readdir, readFile, readlink } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { SerialPort } from 'serialport';
import type { PortInfo } from '../../../shared/contract/api.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';

/** The serial ports of this computer; a fault beside what was found when the system did not let itself be asked. */
export async function listSerialPorts(): Promise<{ ports: PortInfo[]; fault?: Fault }> {
  const found = new Map<string, PortInfo>();
  const add = (path: string, label: string) => {
    if (!found.has(path)) found.set(path, { path, label, kind: 'serial' });
  };
  let trouble: Fault | undefined;
  try {
    for (const port of await SerialPort.list()) {
      if (await isPlaceholder(port.path)) continue;
      const name = [port.manufacturer, port.serialNumber].filter(Boolean).join(' ');
      add(port.path, name ? `${port.path} (${name})` : port.path);
    }
  } catch (error) {
    // On Linux the library asks udevadm, which small systems do not have; the device files are there all the same.
    if (process.platform !== 'linux')
      trouble = fault('ports-unlisted', { reason: error instanceof Error ? error.message : String(error) });
  }
  if (process.platform === 'linux') for (const [path, label] of await linuxPorts()) add(path, label);
  return { ports: [...found.values()], ...(trouble && { fault: trouble }) };
}

async function linuxPorts(): Promise<[path: string, label: string][]> {
  const names = await readdir('/dev').catch(() => []);
  const labels = await adapterNames();
  const ports: [string, string][] = [];
  for (const name of names.filter((entry) => /^tty(?:USB|ACM|S|AMA)\d+$|^rfcomm\d+$/.test(entry)).sort(byNumber)) {
    const path = `/dev/${name}`;
    if (await isPlaceholder(path)) continue;
    const label = labels.get(name);
    ports.push([path, label ? `${path} (${label})` : path]);
  }
  return ports;
}

const byNumber = (a: string, b: string): number => a.localeCompare(b, 'en', { numeric: true });

/** Linux has device files for serial chips that are not fitted: those are of type 0. */
async function isPlaceholder(path: string): Promise<boolean> {
  const type = await readFile(`/sys/class/tty/${basename(path)}/type`, 'utf8').catch(() => undefined);
  return type !== undefined && path.startsWith('/dev/ttyS') && type.trim() === '0';
}

/** What the system calls the USB adapters, by device name. */
async function adapterNames(): Promise<Map<string, string>> {
  const folder = '/dev/serial/by-id';
  const names = new Map<string, string>();
  for (const id of await readdir(folder).catch(() => [])) {
    const target = await readlink(join(folder, id)).catch(() => undefined);
    if (target) names.set(basename(target), id.replace(/^usb-/, '').replaceAll('_', ' '));
  }
  return names;
}
