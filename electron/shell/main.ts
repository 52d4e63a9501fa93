import { app, BrowserWindow, dialog, session } from 'electron';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { dataFolder } from '../host/data-folder.ts';
import { createHost } from '../host/host.ts';
import { readPageFiles } from '../host/page-files.ts';
import { registerScheme, servePage } from './app-protocol.ts';
import { acceptPorts } from './page-port.ts';
import { answerPermissions, confine } from './security.ts';
import { openWindow } from './window.ts';

const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  version: string;
};

const chosenFolder = (): string | undefined => {
  const at = process.argv.indexOf('--data');
  return at < 0 ? undefined : process.argv[at + 1];
};

const onBug = (name: string, error: unknown): void => console.error(`Bug in ${name}:`, error);

/** Nothing can be done without this: say why in a box, and end. */
function giveUp(message: string): void {
  dialog.showErrorBox('Pilot Bench', message);
  app.exit(1);
}

async function start(): Promise<void> {
  const page = readPageFiles(fileURLToPath(new URL('../renderer', import.meta.url)));
  if (!page.ok) return giveUp(page.fault.message);
  // In this process and not a helper of its own: ports, store and analysis already run off its loop or in workers, and one
  // process fewer is one fewer that can be lost while a cold start is recorded.
  const host = createHost({ dataFolder: dataFolder(chosenFolder()), version, host: 'desktop', practice: true, onBug });
  if (!host.ok) return giveUp(host.fault.message);

  servePage(page.value);
  answerPermissions(session.defaultSession);
  acceptPorts(host.value.handlers, onBug);
  app.on('activate', () => {
    if (BrowserWindow.getAllWindows().length === 0) void openWindow();
  });

  let closed = false;
  app.on('will-quit', (event) => {
    if (closed) return;
    // A recording is ended properly before the process goes.
    event.preventDefault();
    void host.value.close().finally(() => {
      closed = true;
      app.quit();
    });
  });
  await openWindow();
}

if (app.requestSingleInstanceLock()) {
  app.enableSandbox();
  registerScheme();
  app.on('web-contents-created', (_event, contents) => confine(contents));
  app.on('second-instance', () => {
    const [window] = BrowserWindow.getAllWindows();
    if (window?.isMinimized()) window.restore();
    window?.focus();
  });
  app.on('window-all-closed', () => app.quit());
  void app.whenReady().then(start);
} else {
  app.quit();
}
