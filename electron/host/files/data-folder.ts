import { homedir } from 'node:os';
import { posix, win32 } from 'node:path';

/** What the answer depends on besides the choice of the user; the running process unless a test says otherwise. */
export interface PlatformFacts {
  platform: NodeJS.Platform;
  env: Record<string, string | undefined>;
  home: string;
  workingFolder: string;
}

const ofThisProcess = (): PlatformFacts => ({
  platform: process.platform,
  env: process.env,
  home: homedir(),
  workingFolder: process.cwd(),
});

/**
 * The folder of the store: `chosen` (--data), else the environment variable PILOT_BENCH_DATA, else the platform's folder for a
 * user's data. The window, the browser host and the commands all ask here, so that they find the same captures.
 *
 * @returns an absolute path; the folder may not exist yet
 * Source for Linux: XDG Base Directory Specification 0.8 (a relative XDG_DATA_HOME is to be ignored).
 */
export function dataFolder(chosen?: string, around: PlatformFacts = ofThisProcess()): string {
  const path = around.platform === 'win32' ? win32 : posix;
  const wanted = chosen || around.env['PILOT_BENCH_DATA'];
  if (wanted) return path.resolve(around.workingFolder, wanted);

  if (around.platform === 'win32')
    return path.join(around.env['APPDATA'] || path.join(around.home, 'AppData', 'Roaming'), 'Pilot Bench');
  if (around.platform === 'darwin') return path.join(around.home, 'Library', 'Application Support', 'Pilot Bench');
  const shared = around.env['XDG_DATA_HOME'];
  return path.join(
    shared && path.isAbsolute(shared) ? shared : path.join(around.home, '.local', 'share'),
    'pilot-bench',
  );
}
