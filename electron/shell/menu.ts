import type { MenuItemConstructorOptions } from 'electron';

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
];
