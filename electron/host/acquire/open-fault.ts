import { readFileSync, statSync } from 'node:fs';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';

/**
 * Sorts the text with which the system refused to open a port; the serial library gives no code.
 * @param reason  its message, e.g. "Error: Permission denied, cannot open /dev/ttyUSB0"
 */
export function openFault(port: string, reason: string, platform: NodeJS.Platform = process.platform): Fault {
  if (/no such (?:file|device)|file not found|cannot find/i.test(reason)) return fault('port-missing', { port });
  // Windows says "Access denied" for a port that another program has open: there are no rights on ports there.
  if (/cannot lock|temporarily unavailable|resource busy/i.test(reason)) return fault('port-busy', { port });
  if (/access (?:is )?denied/i.test(reason) && platform === 'win32') return fault('port-busy', { port });
  if (/permission denied|access (?:is )?denied|not permitted/i.test(reason))
    return fault('port-denied', { port, help: helpFor(port, platform) });
  const text = reason
    .replace(/^Error:?\s*/, '')
    .replace(/[,.]?\s*(?:cannot open.*)?$/i, '')
    .trim();
  return fault('port-failed', { port, reason: text === '' ? 'the system gave no reason' : text });
}

function helpFor(port: string, platform: NodeJS.Platform): string {
  if (platform !== 'linux') return 'Ask whoever looks after this computer for the right to use serial ports.';
  const group = groupOf(port) ?? 'dialout';
  return `Add yourself to the group ${group} with "sudo usermod -a -G ${group} $USER", then log out and in again.`;
}

/** The name of the group that may open the device. */
function groupOf(port: string): string | undefined {
  try {
    const { gid } = statSync(port);
    const line = readFileSync('/etc/group', 'utf8')
      .split('\n')
      .find((entry) => entry.split(':')[2] === String(gid));
    const name = line?.split(':')[0];
    return name === 'root' ? undefined : name;
  } catch {
    return undefined;
  }
}
