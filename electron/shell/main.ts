import { app, BrowserWindow, dialog, Menu, session } from 'electron';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { fault } from '../../shared/model/faults.ts';
import { dataFolder } from '../host/files/data-folder.ts';
import { createHost } from '../host/host.ts';
import { readPageFiles } from '../host/files/page-files.ts';
import { registerScheme, servePage } from './app-protocol.ts';
import { menuTemplate } from './menu.ts';
import { acceptPorts } from './page-port.ts';
import { answerPermissions, confine, keepLocal } from './security.ts';
import { openWindow } from './desktop-window.ts';

const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  version: string;
};

/** `--data DIR` or `--data=DIR`, among whatever else Electron and Chromium are told. */
function chosenFolder(): string | undefined {
  const args = process.argv.slice(app.isPackaged ? 1 : 2);
  const { data } = parseArgs({ args, options: { data: { type: 'string' } }, strict: false }).values;
  return typeof data === 'string' ? data : undefined;
}

const onBug = (name: string, error: unknown): void => console.error(`Bug in ${name}:`, error);

/** Nothing can be done without this: say why in a box, and end. */
function giveUp(message: string): void {
  dialog.showErrorBox('Pilot Bench', message);
  app.exit(1);
}

/**
 * Makes the folder of the store also Electron's own, with what Chromium keeps in a folder inside it. The lock of the running
 * program then lies beside the store: one window for each store, and the same store as the browser host and the commands.
 */
function settleIn(folder: string): boolean {
  const own = join(folder, 'window');
  try {
    mkdirSync(own, { recursive: true });
  } catch (error) {
    giveUp(fault('store-unavailable', { file: folder, reason: (error as Error).message }).message);
    return false;
  }
  app.setPath('userData', folder);
  app.setPath('sessionData', own);
  return true;
}

async function start(): Promise<void> {
  await app.whenReady();
  const page = readPageFiles(fileURLToPath(new URL('../renderer', import.meta.url)));
  if (!page.ok) return giveUp(page.fault.message);
  // In this process and not a helper of its own: ports, store and analysis already run off its loop or in workers, and one
  // process fewer is one fewer that can be lost while a cold start is recorded.
  const host = createHost({ dataFolder: folder, version, host: 'desktop', practice: true, onBug });
  if (!host.ok) return giveUp(host.fault.message);

  servePage(page.value);
  answerPermissions(session.defaultSession);
  keepLocal(session.defaultSession);
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(process.platform)));
  acceptPorts(host.value.handlers, onBug);
  let closed = false;
  app.on('will-quit', (event) => {
    if (closed) return;
    // A recording is ended properly before the process goes.
    event.preventDefault();
    void host.value
      .close()
      .then((unsaved) => unsaved && dialog.showErrorBox('Pilot Bench', unsaved.message))
      .catch((error: unknown) => onBug('close', error))
      .finally(() => {
        closed = true;
        app.quit();
      });
  });
  openWindow();
}

const folder = dataFolder(chosenFolder());
if (settleIn(folder) && app.requestSingleInstanceLock()) {
  app.enableSandbox();
  registerScheme();
  app.on('web-contents-created', (_event, contents) => confine(contents));
  app.on('second-instance', () => {
    const [window] = BrowserWindow.getAllWindows();
    if (window?.isMinimized()) window.restore();
    window?.focus();
  });
  // On macOS too: meters that went on being read without a window would surprise.
  app.on('window-all-closed', () => app.quit());
  void start();
} else {
  app.quit();
}
