import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { takeLock } from '../../electron/shell/instance-lock.ts';
import { createOpenedFiles, filesAmong } from '../../electron/shell/opened-files.ts';
import { oldestElectron, startFault } from '../../electron/shell/start-checks.ts';
import { keptState } from '../../electron/shell/window-state.ts';

vi.mock('electron', () => ({ dialog: {} }));
const links = vi.hoisted(() => ({ refused: false }));
vi.mock('node:fs', async (original) => {
  const fs = await original<typeof import('node:fs')>();
  const symlinkSync: typeof fs.symlinkSync = (...args) => {
    // As a FAT disk answers.
    if (links.refused) throw Object.assign(new Error('EPERM'), { code: 'EPERM' });
    fs.symlinkSync(...args);
  };
  return { ...fs, symlinkSync };
});

function folderFor(): string {
  const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-start-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

describe('the version of Electron', () => {
  const app = { isPackaged: true, commandLine: { hasSwitch: () => false } } as never;

  it('is the one that is installed for it', () => {
    const { devDependencies } = JSON.parse(readFileSync('package.json', 'utf8')) as {
      devDependencies: Record<string, string>;
    };
    expect(Number.parseInt(devDependencies['electron']!, 10)).toBe(oldestElectron);
    expect(startFault(app, devDependencies['electron']!)).toBeUndefined();
  });

  it('is not an older one', () => {
    expect(startFault(app, `${oldestElectron - 1}.9.9`)).toMatchObject({ code: 'electron-old' });
    expect(startFault(app, '0')).toMatchObject({ code: 'electron-old' });
  });

  it('does not let another program in once it is packed', () => {
    const commandLine = { hasSwitch: (name: string) => name === 'remote-debugging-port' };
    const fault = { code: 'start-switch-refused', facts: { name: 'remote-debugging-port' } };
    expect(startFault({ isPackaged: true, commandLine } as never, '45.0.0')).toMatchObject(fault);
    expect(startFault({ isPackaged: false, commandLine } as never, '45.0.0')).toBeUndefined();
  });
});

describe('the lock of the store', () => {
  const refused = { requestSingleInstanceLock: () => false };

  it('belongs to another window when the disk has locks', () => {
    const folder = folderFor();
    expect(takeLock(refused, folder)).toBe('other');
    expect(readdirSync(folder)).toEqual([]);
  });

  it.skipIf(process.platform === 'win32')('is done without where the disk has none', () => {
    links.refused = true;
    onTestFinished(() => void (links.refused = false));
    expect(takeLock(refused, folderFor())).toBe('none');
  });
});

describe('the place of the window', () => {
  const screen = { x: 0, y: 0, width: 1366, height: 728 };
  const kept = (text: string, areas = [screen]) => {
    const file = join(folderFor(), 'window.json');
    writeFileSync(file, text);
    return keptState(file, areas);
  };
  const state = { x: 100, y: 50, width: 1100, height: 650, maximized: false };

  it('is taken again', () => expect(kept(JSON.stringify(state))).toEqual(state));

  it.each([
    ['on a second display that is gone', { x: 2000 }],
    ['with its top above the display', { y: -30 }],
    ['with only a strip on the display', { x: 1300 }],
    ['below the display', { y: 720 }],
    ['of no size', { width: 0 }],
    ['at no number', { x: 'left' }],
  ])('is not taken %s', (_where, part) => expect(kept(JSON.stringify({ ...state, ...part }))).toBeUndefined());

  it('is not taken from a damaged or a missing file', () => {
    for (const text of ['', '{', 'null', '[]']) expect(kept(text)).toBeUndefined();
    expect(keptState('no such file', [screen])).toBeUndefined();
  });
});

describe('files opened with the program', () => {
  it('are told from switches and folders', () => {
    expect(filesAmong(['--data', 'folder', 'a.zip', '-x.csv', 'B.CSV', '.'])).toEqual(['a.zip', 'B.CSV']);
  });

  it('wait for the window, and one lot for the other', async () => {
    const files = createOpenedFiles(['a.zip']);
    files.add(['b.csv']);
    const lots: (readonly string[])[] = [];
    let running = 0;
    files.deliver(async (paths) => {
      running += 1;
      expect(running).toBe(1);
      lots.push(paths);
      await new Promise((resolve) => setTimeout(resolve, 1));
      running -= 1;
    });
    files.add(['c.zip']);
    await vi.waitFor(() => expect(lots).toEqual([['a.zip', 'b.csv'], ['c.zip']]));
  });
});
