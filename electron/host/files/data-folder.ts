import { homedir } from 'node:os';
import { posix, win32 } from 'node:path';

/** What the folder depends on besides the user's choice: that of the running process, except in tests. */
export interface PlatformFacts {
  platform: NodeJS.Platform;
  env: Record<string, string | undefined>;
  home: string;
  workingFolder: string;
}

const currentPlatform = (): PlatformFacts => ({
  platform: process.platform,
  env: process.env,
  home: homedir(),
  workingFolder: process.cwd(),
});

/**
 * The folder of the store: `chosen` (--data), else the environment variable PILOT_BENCH_DATA, else the platform's folder for a
 * user's data. Desktop window, browser host and commands all use this function, so that they find the same captures.
 *
 * @returns an absolute path; the folder may not exist yet
 * Source for Linux: XDG Base Directory Specification 0.8 (a relative XDG_DATA_HOME is to be ignored).
 */
export function dataFolder(chosen?: string, platformFacts: PlatformFacts = currentPlatform()): string {
  const path = platformFacts.platform === 'win32' ? win32 : posix;
  const wanted = chosen || platformFacts.env['PILOT_BENCH_DATA'];
  if (wanted) return path.resolve(platformFacts.workingFolder, wanted);

  if (platformFacts.platform === 'win32')
    return path.join(
      platformFacts.env['APPDATA'] || path.join(platformFacts.home, 'AppData', 'Roaming'),
      'Pilot Bench',
    );
  if (platformFacts.platform === 'darwin')
    return path.join(platformFacts.home, 'Library', 'Application Support', 'Pilot Bench');
  const shared = platformFacts.env['XDG_DATA_HOME'];
  return path.join(
    shared && path.isAbsolute(shared) ? shared : path.join(platformFacts.home, '.local', 'share'),
    'pilot-bench',
  );
}
