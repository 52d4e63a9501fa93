import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { pathToFileURL } from 'node:url';

/**
 * Opens a file in a window of its own, without tabs, of a browser that has such windows; otherwise with the system's default browser.
 * `onFailure` is called when there is none.
 */
export function openBrowser(file: string, onFailure: () => void): void {
  const target = pathToFileURL(file).href;
  const windowBrowser = browserWithWindows();
  const [command, ...args] = windowBrowser ? [windowBrowser, `--app=${target}`] : defaultBrowser(target);
  const child = spawn(command, args, { stdio: 'ignore', detached: true });
  child.on('error', onFailure);
  child.unref();
}

function defaultBrowser(target: string): [string, ...string[]] {
  if (process.platform === 'darwin') return ['open', target];
  if (process.platform === 'win32') return ['rundll32', 'url.dll,FileProtocolHandler', target];
  return ['xdg-open', target];
}

/** The program of a browser built on Chromium, which opens an address in a window of its own with `--app`. */
function browserWithWindows(): string | undefined {
  const { PATH = '', 'ProgramFiles(x86)': programs86 = '', ProgramFiles: programs = '' } = process.env;
  const onPath = (name: string) => PATH.split(delimiter).map((folder) => join(folder, name));
  const places = {
    linux: ['chromium', 'chromium-browser', 'google-chrome', 'microsoft-edge'].flatMap(onPath),
    darwin: [
      '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
      '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
    ],
    win32: [programs86, programs].map((folder) => join(folder, 'Microsoft', 'Edge', 'Application', 'msedge.exe')),
  };
  return places[process.platform as keyof typeof places]?.find((place) => existsSync(place));
}
