import type { App } from 'electron';
import { rmSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';

/**
 * Asks for the lock that keeps one desktop window to a store. Outside Windows it is a symbolic link beside the store, which some disks
 * (FAT, some network drives) do not have: then two windows may be open, which the store permits.
 */
export function takeLock(app: Pick<App, 'requestSingleInstanceLock'>, folder: string): 'held' | 'other' | 'none' {
  if (app.requestSingleInstanceLock()) return 'held';
  return process.platform === 'win32' || hasSymbolicLinks(folder) ? 'other' : 'none';
}

export const noLockText =
  'The disk of this folder has no locks, so nothing keeps a second Pilot Bench window from opening the same store. ' +
  'Nothing is lost by it, but keep to one window.';

function hasSymbolicLinks(folder: string): boolean {
  const link = join(folder, `.lock-test-${process.pid}.part`);
  try {
    symlinkSync('nowhere', link);
    rmSync(link);
    return true;
  } catch {
    return false;
  }
}
