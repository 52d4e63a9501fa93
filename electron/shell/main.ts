import { app, BrowserWindow, dialog, Menu, screen, session } from 'electron';
import { mkdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { fault } from '../../shared/model/faults.ts';
import { isCommand } from '../cli/run-program.ts';
import { dataFolder } from '../host/files/data-folder.ts';
import { makePrivateFolder } from '../host/files/private-folder.ts';
import { createHost, type Host } from '../host/host.ts';
import { readPageFiles } from '../host/files/page-files.ts';
import { registerScheme, servePage } from './app-protocol.ts';
import { openDesktopWindow } from './desktop-window.ts';
import { noLockText, takeLock } from './instance-lock.ts';
import { aboutPanel, menuTemplate } from './menu.ts';
import { createOpenedFiles, filesAmong, importOpened, type OpenedFiles } from './opened-files.ts';
import { acceptPorts } from './page-port.ts';
import { answerPermissions, blockNavigation, blockNetwork } from './security.ts';
import { runCommand } from './run-command.ts';
import { startFault } from './start-checks.ts';
import { forkUtilityProcess } from './utility-process.ts';
import { askBeforeClosing, stayAwake } from './while-recording.ts';
import { keepState, keptState } from './window-state.ts';

const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  version: string;
};

/** The arguments behind the program, and in a checkout behind its folder. */
const ownArguments = (argv: readonly string[]): string[] => argv.slice(app.isPackaged ? 1 : 2);

/** The value of `--data DIR` or `--data=DIR`, among arguments for Electron and Chromium. */
function dataArgument(): string | undefined {
  const { data } = parseArgs({
    args: ownArguments(process.argv),
    options: { data: { type: 'string' } },
    strict: false,
  }).values;
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

async function start(opened: OpenedFiles): Promise<void> {
  await app.whenReady();
  const page = readPageFiles(fileURLToPath(new URL('../renderer', import.meta.url)));
  if (!page.ok) return failStart(page.fault.message);
  // Ports and store are in this process: one process fewer is one fewer that can end while a cold start is recorded.
  const host = createHost({
    dataFolder: folder,
    version,
    host: 'desktop',
    practice: true,
    onBug,
    startProcess: forkUtilityProcess,
  });
  if (!host.ok) return failStart(host.fault.message);

  servePage(page.value);
  answerPermissions(session.defaultSession);
  blockNetwork(session.defaultSession);
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(process.platform)));
  app.setAboutPanelOptions(aboutPanel(version, process.versions));
  acceptPorts(host.value.handlers, onBug);
  closeBeforeQuitting(host.value);
  stayAwake(host.value.isRecording);

  const stateFile = join(folder, 'window.json');
  const workAreas = screen.getAllDisplays().map(({ workArea }) => workArea);
  const window = openDesktopWindow(keptState(stateFile, workAreas));
  askBeforeClosing(window, host.value.isRecording);
  keepState(window, stateFile);
  opened.deliver((paths) => importOpened(host.value, window, paths));
  if (lock === 'none') void dialog.showMessageBox(window, { type: 'warning', message: noLockText, buttons: ['OK'] });
}

/** A recording is closed properly before the process ends. */
function closeBeforeQuitting(host: Host): void {
  let closed = false;
  app.on('will-quit', (event) => {
    if (closed) return;
    event.preventDefault();
    void host
      .close()
      .then((fault) => fault && dialog.showErrorBox('Pilot Bench', fault.message))
      .catch((error: unknown) => onBug('close', error))
      .finally(() => {
        closed = true;
        app.quit();
      });
  });
}

const folder = dataFolder(dataArgument());
const given = ownArguments(process.argv);
const isCall = isCommand(given[0]);
const refusal = startFault(app, process.versions.electron ?? '0');
const lock = refusal === undefined && !isCall && setDataFolder(folder) ? takeLock(app, folder) : undefined;
if (isCall) {
  void runCommand(given, refusal);
} else if (refusal) {
  failStart(refusal.message);
} else if (lock === 'held' || lock === 'none') {
  app.enableSandbox();
  registerScheme();
  app.on('web-contents-created', (_event, contents) => blockNavigation(contents));
  const opened = createOpenedFiles(filesAmong(given));
  // macOS passes files by this event, also before the program is ready.
  app.on('open-file', (event, path) => {
    event.preventDefault();
    opened.add([path]);
  });
  app.on('second-instance', (_event, argv, workingFolder) => {
    const [window] = BrowserWindow.getAllWindows();
    if (window?.isMinimized()) window.restore();
    window?.focus();
    opened.add(filesAmong(argv.slice(1)).map((path) => resolve(workingFolder, path)));
  });
  // On macOS too: nobody expects meters to be read without a desktop window.
  app.on('window-all-closed', () => app.quit());
  // Without a window nobody would see why; the lock would keep the next start from showing one.
  start(opened).catch((error: unknown) => {
    onBug('start', error);
    failStart(fault('internal', { what: 'starting' }).message);
  });
} else {
  app.quit();
}
