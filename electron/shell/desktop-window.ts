import { BrowserWindow, dialog } from 'electron';
import { fileURLToPath } from 'node:url';
import { appOrigin } from '../../shared/contract/endpoints.ts';
import { fault } from '../../shared/model/faults.ts';
import { safePreferences } from './security.ts';
import type { WindowState } from './window-state.ts';

const preload = fileURLToPath(new URL('../preload/preload.cjs', import.meta.url));

// A page that crashes again this soon after it was reloaded will keep crashing.
const repeatedCrashMs = 10_000;
// What Chromium reports of a load that was given up for another one.
const loadAborted = -3;

/**
 * Opens the desktop window of the workbench, where it was before if that is known. It shows once the page is ready. A page that crashed is
 * loaded again and continues with its readings where it was; recording does not depend on it.
 */
export function openDesktopWindow(kept?: WindowState): BrowserWindow {
  const window = new BrowserWindow({
    width: 1366,
    height: 768,
    ...(kept && { x: kept.x, y: kept.y, width: kept.width, height: kept.height }),
    minWidth: 1024,
    minHeight: 600,
    show: false,
    title: 'Pilot Bench',
    autoHideMenuBar: true,
    webPreferences: safePreferences(preload),
  });
  if (kept?.maximized) window.maximize();
  window.once('ready-to-show', () => window.show());
  // A load that fails is said below, or the desktop window is closed.
  const load = () => void window.loadURL(`${appOrigin}/`).catch(() => {});
  reloadAfterCrash(window, load);
  sayWhatFails(window, load);
  load();
  return window;
}

function reloadAfterCrash(window: BrowserWindow, load: () => void): void {
  let lastCrashMs = Number.NEGATIVE_INFINITY;
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    if (reason === 'clean-exit') return;
    const isRepeated = performance.now() - lastCrashMs < repeatedCrashMs;
    lastCrashMs = performance.now();
    if (!isRepeated) return load();
    const message = 'The Pilot Bench window crashed twice.';
    void asksToReload(window, message, `Everything recorded is safe. Reason: ${reason}.`).then((reload) =>
      reload ? load() : window.destroy(),
    );
  });
}

/** A page that could not be loaded, or that does not respond, would be an empty or a frozen window without a word. */
function sayWhatFails(window: BrowserWindow, load: () => void): void {
  window.webContents.on('did-fail-load', (_event, code, reason, _url, isMainFrame) => {
    if (!isMainFrame || code === loadAborted) return;
    window.show();
    const { message } = fault('page-not-loaded', { reason: reason || String(code) });
    void asksToReload(window, 'The page could not be loaded.', message).then((reload) =>
      reload ? load() : window.close(),
    );
  });
  let waiting: AbortController | undefined;
  const ask = async (signal: AbortSignal) => {
    const { response } = await dialog.showMessageBox(window, {
      type: 'warning',
      message: 'The Pilot Bench window does not respond.',
      detail: 'Recording continues. Do not rely on what the window shows: look at the burner and the meters.',
      buttons: ['Wait', 'Reload'],
      defaultId: 0,
      cancelId: 0,
      signal,
    });
    waiting = undefined;
    // A page that hangs answers no reload; one that crashed is loaded again.
    if (response === 1) window.webContents.forcefullyCrashRenderer();
  };
  window.on('unresponsive', () => {
    if (waiting) return;
    waiting = new AbortController();
    void ask(waiting.signal);
  });
  window.on('responsive', () => waiting?.abort());
}

// Not the kind of dialog that waits for its answer: nothing would be recorded meanwhile.
async function asksToReload(window: BrowserWindow, message: string, detail: string): Promise<boolean> {
  const { response } = await dialog.showMessageBox(window, {
    type: 'error',
    message,
    detail,
    buttons: ['Reload', 'Quit Pilot Bench'],
    defaultId: 0,
    cancelId: 0,
  });
  return response === 0;
}
