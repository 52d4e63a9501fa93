import { SerialPort } from 'serialport';
import type { PortInfo } from '../../../../shared/contract/api.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { reasonOf } from '../../files/write-whole.ts';
import { adapterFacts, type AdapterFacts, listLinuxPorts } from './linux-ports.ts';

/**
 * The serial ports of this computer, or the fault `ports-unlisted` when the system does not list them. No program is started for it: the
 * serial library does so on Linux only.
 */
export async function listSerialPorts(): Promise<{ ports: PortInfo[]; fault?: Fault }> {
  try {
    const found = process.platform === 'linux' ? await listLinuxPorts() : await listByLibrary();
    const ports = found.map(([path, facts]): PortInfo => {
      const name = [facts.adapter, facts.serialNumber].filter(Boolean).join(' ');
      return { path, label: name ? `${path} (${name})` : path, kind: 'serial', ...facts };
    });
    return { ports };
  } catch (error) {
    return { ports: [], fault: fault('ports-unlisted', { reason: reasonOf(error) }) };
  }
}

async function listByLibrary(): Promise<[path: string, facts: AdapterFacts][]> {
  return (await SerialPort.list()).map((port) => {
    // Only Windows gives a friendly name, with the port in it: "USB Serial Port (COM3)".
    const friendly = (port as { friendlyName?: string }).friendlyName?.replace(/\s*\(COM\d+\)$/u, '');
    return [port.path, adapterFacts(friendly ?? port.manufacturer, port.serialNumber)];
  });
}
