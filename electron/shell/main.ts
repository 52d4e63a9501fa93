import { app, BrowserWindow, dialog, Menu, session } from 'electron';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { fault } from '../../shared/model/faults.ts';
import { dataFolder } from '../host/files/data-folder.ts';
import { makePrivateFolder } from '../host/files/private-folder.ts';
import { createHost } from '../host/host.ts';
import { readPageFiles } from '../host/files/page-files.ts';
import { registerScheme, servePage } from './app-protocol.ts';
import { openDesktopWindow } from './desktop-window.ts';
import { menuTemplate } from './menu.ts';
import { acceptPorts } from './page-port.ts';
import { answerPermissions, blockNavigation, blockNetwork } from './security.ts';

const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  version: string;
};

/** The value of `--data DIR` or `--data=DIR`, among arguments for Electron and Chromium. */
function dataArgument(): string | undefined {
  const args = process.argv.slice(app.isPackaged ? 1 : 2);
  const { data } = parseArgs({ args, options: { data: { type: 'string' } }, strict: false }).values;
  return typeof data === 'string' ? data : undefined;
}

const onBug = (name: string, error: unknown): void => console.error(`Bug in ${name}:`, error);

/** Shows why the program cannot start in an error box, and ends. */
function failStart(message: string): void {
  dialog.showErrorBox('Pilot Bench', message);
  app.exit(1);
}

/**
 * Makes the folder of the store also Electron's user data folder, with Chromium's files in a folder inside it. The single-instance lock
 * is then beside the store: one desktop window for each store, and the same store as the browser host and the commands.
 * @returns false when the folder cannot be created; the program ends then
 */
function setDataFolder(folder: string): boolean {
  const chromiumFolder = join(folder, 'window');
  try {
    makePrivateFolder(folder);
    mkdirSync(chromiumFolder, { recursive: true, mode: 0o700 });
  } catch (error) {
    failStart(fault('store-unavailable', { file: folder, reason: (error as Error).message }).message);
    return false;
  }
  app.setPath('userData', folder);
  app.setPath('sessionData', chromiumFolder);
  return true;
}

async function start(): Promise<void> {
  await app.whenReady();
  const page = readPageFiles(fileURLToPath(new URL('../renderer', import.meta.url)));
  if (!page.ok) return failStart(page.fault.message);
  // In this process and not in a utility process: ports, store and analysis already run off its event loop or in worker threads, and
  // one process fewer is one fewer that can crash while a cold start is recorded.
  const host = createHost({ dataFolder: folder, version, host: 'desktop', practice: true, onBug });
  if (!host.ok) return failStart(host.fault.message);

  servePage(page.value);
  answerPermissions(session.defaultSession);
  blockNetwork(session.defaultSession);
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(process.platform)));
  acceptPorts(host.value.handlers, onBug);
  let closed = false;
  app.on('will-quit', (event) => {
    if (closed) return;
    // A recording is closed properly before the process ends.
    event.preventDefault();
    void host.value
      .close()
      .then((fault) => fault && dialog.showErrorBox('Pilot Bench', fault.message))
      .catch((error: unknown) => onBug('close', error))
      .finally(() => {
        closed = true;
        app.quit();
      });
  });
  openDesktopWindow();
}

const folder = dataFolder(dataArgument());
if (setDataFolder(folder) && app.requestSingleInstanceLock()) {
  app.enableSandbox();
  registerScheme();
  app.on('web-contents-created', (_event, contents) => blockNavigation(contents));
  app.on('second-instance', () => {
    const [window] = BrowserWindow.getAllWindows();
    if (window?.isMinimized()) window.restore();
    window?.focus();
  });
  // On macOS too: nobody expects meters to be read without a desktop window.
  app.on('window-all-closed', () => app.quit());
  // Without a window nobody would see why; the lock would keep the next start from showing one.
  start().catch((error: unknown) => {
    onBug('start', error);
    failStart(fault('internal', { what: 'starting' }).message);
  });
} else {
  app.quit();
}
