import { BrowserWindow } from 'electron';
import { fileURLToPath } from 'node:url';
import { appOrigin } from '../../shared/contract/meeting-point.ts';
import { safePreferences } from './security.ts';

const preload = fileURLToPath(new URL('../preload/preload.cjs', import.meta.url));

/** The workbench window. It shows when there is something to see. */
export async function openWindow(): Promise<BrowserWindow> {
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
  await window.loadURL(`${appOrigin}/`);
  return window;
}
