import { BrowserWindow, dialog } from 'electron';
import { fileURLToPath } from 'node:url';
import { appOrigin } from '../../shared/contract/endpoints.ts';
import { safePreferences } from './security.ts';

const preload = fileURLToPath(new URL('../preload/preload.cjs', import.meta.url));

// A page that falls over again so soon after it was loaded again will go on doing so.
const soonMs = 10_000;

/**
 * The workbench window. It shows when there is something to see. A page that fell over is loaded again and takes up its
 * readings where they were; recording does not depend on it.
 */
export function openWindow(): BrowserWindow {
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
  // A load that does not come to its end is followed by another or by the end of the window.
  const load = () => void window.loadURL(`${appOrigin}/`).catch(() => {});

  let fellAt = Number.NEGATIVE_INFINITY;
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    if (reason === 'clean-exit') return;
    const again = performance.now() - fellAt < soonMs;
    fellAt = performance.now();
    if (!again || opensAgain(window, reason)) load();
    else window.destroy();
  });
  load();
  return window;
}

function opensAgain(window: BrowserWindow, reason: string): boolean {
  const answer = dialog.showMessageBoxSync(window, {
    type: 'error',
    message: 'The window of Pilot Bench stopped twice.',
    detail: `What was recorded is safe. The system says: ${reason}.`,
    buttons: ['Open it again', 'Close Pilot Bench'],
    defaultId: 0,
    cancelId: 0,
  });
  return answer === 0;
}
