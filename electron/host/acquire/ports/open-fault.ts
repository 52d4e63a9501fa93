import { readFileSync, statSync } from 'node:fs';
import { userInfo } from 'node:os';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { holderOf } from './port-holder.ts';

/**
 * The fault for the message with which the system refused to open a port; the serial library gives no code. Names the program that
 * holds a busy port where the system tells.
 * @param reason  the message, e.g. "Error: Permission denied, cannot open /dev/ttyUSB0"
 * @returns `port-missing`, `port-busy`, `port-denied`, `port-not-serial` or `port-failed`
 */
export async function openFault(
  port: string,
  reason: string,
  platform: NodeJS.Platform = process.platform,
): Promise<Fault> {
  if (/no such (?:file|device)|file not found|cannot find/i.test(reason)) return fault('port-missing', { port });
  // Windows says "Access denied" for a port that another program has open: there are no rights on ports there.
  if (
    /cannot lock|temporarily unavailable|resource busy/i.test(reason) ||
    (/access (?:is )?denied/i.test(reason) && platform === 'win32')
  ) {
    const holder = platform === 'linux' ? await holderOf(port) : undefined;
    return fault('port-busy', { port, ...(holder !== undefined && { holder }) });
  }
  if (/permission denied|access (?:is )?denied|not permitted/i.test(reason))
    return fault('port-denied', { port, help: deniedHelp(port, platform, rightsOn(port)) });
  // ENOTTY, and EISDIR for a folder: it can be opened, but has no speed to set.
  if (/inappropriate ioctl|is a directory/i.test(reason)) return fault('port-not-serial', { port });
  const text = reason
    .replace(/^Error:?\s*/, '')
    .replace(/[,.]?\s*(?:cannot open.*)?$/i, '')
    .trim();
  return fault('port-failed', { port, reason: text === '' ? 'the system gave no reason' : text });
}

/** Who may open a device on Linux, and whether this user is among them. */
export interface Rights {
  /** The group it belongs to; undefined when that is root's own, or unknown. */
  group: string | undefined;
  /** Whether that group may read and write it. */
  groupHasAccess: boolean;
  /** Whether the user is listed in the group. */
  isMember: boolean;
}

/** How to get the right to open the port on this system, as sentences. */
export function deniedHelp(port: string, platform: NodeJS.Platform, rights: Rights | undefined): string {
  if (platform === 'win32')
    return 'Ask the administrator of this computer to allow serial ports for this user; company policy can block them.';
  // Every user may open the serial devices of a Mac; laptops ask before a new USB device may connect at all (from memory).
  if (platform === 'darwin')
    return 'Plug the adapter in again and choose "Allow" when the Mac asks; see also "Allow accessories to connect" in System Settings, Privacy & Security.';
  if (platform !== 'linux') return 'Ask the administrator of this computer for the right to use serial ports.';
  if (!rights?.group || !rights.groupHasAccess) {
    // Systems without udev leave every device with root.
    const group = rights?.group ?? 'dialout';
    return `No group may open it on this system. "sudo chgrp ${group} ${port} && sudo chmod g+rw ${port}" gives it to the group ${group} until it is unplugged${rights?.isMember ? '' : `; "sudo usermod -a -G ${group} $USER" adds you to the group, from the next login on`}.`;
  }
  if (rights.isMember)
    return `You are in its group ${rights.group}, but have not logged in since. Log out and in again, or restart the computer.`;
  return `Add yourself to the group ${rights.group} with "sudo usermod -a -G ${rights.group} $USER", then log out and in again.`;
}

function rightsOn(port: string): Rights | undefined {
  try {
    const { gid, mode } = statSync(port);
    const [name, , , members = ''] =
      readFileSync('/etc/group', 'utf8')
        .split('\n')
        .map((line) => line.split(':'))
        .find((entry) => entry[2] === String(gid)) ?? [];
    return {
      group: name === 'root' ? undefined : name,
      groupHasAccess: (mode & 0o060) === 0o060,
      isMember: members.split(',').includes(userInfo().username),
    };
  } catch {
    return undefined;
  }
}
