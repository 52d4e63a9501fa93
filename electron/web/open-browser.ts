import { spawn } from 'node:child_process';
import { pathToFileURL } from 'node:url';

/** Opens a file with the system's default browser; `onFailure` is called when there is none. */
export function openBrowser(file: string, onFailure: () => void): void {
  const target = pathToFileURL(file).href;
  const [command, ...args] =
    process.platform === 'darwin'
      ? ['open', target]
      : process.platform === 'win32'
        ? ['rundll32', 'url.dll,FileProtocolHandler', target]
        : ['xdg-open', target];
  const child = spawn(command, args, { stdio: 'ignore', detached: true });
  child.on('error', onFailure);
  child.unref();
}
