import type { App } from 'electron';
import type { Fault } from '../../shared/model/faults.ts';
import { fault } from '../../shared/model/faults.ts';

/** Switches by which another program could read the page, write to it, or bring its own code in. */
export const refusedSwitches = [
  'remote-debugging-port',
  'remote-debugging-pipe',
  'inspect',
  'inspect-brk',
  'inspect-wait',
  'load-extension',
  'disable-web-security',
] as const;

/** The major version of Electron that this program was made for. An older one has faults that are known and closed in this one. */
export const oldestElectron = 45;

/** Why the program must not start as it was called, if there is a reason. A developer's checkout may be debugged. */
export function startFault(app: Pick<App, 'isPackaged' | 'commandLine'>, electron: string): Fault | undefined {
  if (Number.parseInt(electron, 10) < oldestElectron)
    return fault('electron-old', { found: electron, oldest: oldestElectron });
  const refused = refusedSwitches.find((name) => app.commandLine.hasSwitch(name));
  return refused !== undefined && app.isPackaged ? fault('start-switch-refused', { name: refused }) : undefined;
}
