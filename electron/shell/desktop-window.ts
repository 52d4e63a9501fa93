import { BrowserWindow, dialog } from 'electron';
import { fileURLToPath } from 'node:url';
import { appOrigin } from '../../shared/contract/endpoints.ts';
import { safePreferences } from './security.ts';

const preload = fileURLToPath(new URL('../preload/preload.cjs', import.meta.url));

// A page that crashes again this soon after it was reloaded will keep crashing.
const repeatedCrashMs = 10_000;

/**
 * Opens the desktop window of the workbench. It shows once the page is ready. A page that crashed is loaded again and continues with its
 * readings where it was; recording does not depend on it.
 */
export function openDesktopWindow(): BrowserWindow {
  const window = new BrowserWindow({
    width: 1366,
    height: 768,
    minWidth: 1024,
    minHeight: 700,
    show: false,
    title: 'Pilot Bench',
    autoHideMenuBar: true,
    webPreferences: safePreferences(preload),
  });
  window.once('ready-to-show', () => window.show());
  // A load that fails is followed by another one, or the desktop window is closed.
  const load = () => void window.loadURL(`${appOrigin}/`).catch(() => {});

  let lastCrashMs = Number.NEGATIVE_INFINITY;
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    if (reason === 'clean-exit') return;
    const isRepeated = performance.now() - lastCrashMs < repeatedCrashMs;
    lastCrashMs = performance.now();
    if (!isRepeated || asksToReload(window, reason)) load();
    else window.destroy();
  });
  load();
  return window;
}

function asksToReload(window: BrowserWindow, reason: string): boolean {
  const answer = dialog.showMessageBoxSync(window, {
    type: 'error',
    message: 'The Pilot Bench window crashed twice.',
    detail: `Everything recorded is safe. Reason: ${reason}.`,
    buttons: ['Reload', 'Quit Pilot Bench'],
    defaultId: 0,
    cancelId: 0,
  });
  return answer === 0;
}
