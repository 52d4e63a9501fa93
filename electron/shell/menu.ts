import type { AboutPanelOptionsOptions, MenuItemConstructorOptions } from 'electron';

const help: MenuItemConstructorOptions = { role: 'help', submenu: [{ role: 'about' }] };

/** The standard menus. The workbench has its own controls in the page. */
export const menuTemplate = (platform: NodeJS.Platform): MenuItemConstructorOptions[] => [
  { role: platform === 'darwin' ? 'appMenu' : 'fileMenu' },
  { role: 'editMenu' },
  {
    label: 'View',
    submenu: [
      { role: 'reload' },
      { type: 'separator' },
      { role: 'resetZoom' },
      { role: 'zoomIn' },
      { role: 'zoomOut' },
      { type: 'separator' },
      { role: 'togglefullscreen' },
    ],
  },
  { role: 'windowMenu' },
  // On macOS it is in the menu of the program.
  ...(platform === 'darwin' ? [] : [help]),
];

/** What About shows: the versions that somebody who helps will ask for. */
export const aboutPanel = (version: string, versions: Partial<NodeJS.ProcessVersions>): AboutPanelOptionsOptions => ({
  applicationName: 'Pilot Bench',
  applicationVersion: version,
  version: `Electron ${versions.electron}, Chromium ${versions.chrome}, Node ${versions.node}`,
  copyright: 'Copyright (c) the Pilot Bench contributors. Licenses of all parts: licenses.txt beside the program.',
});
