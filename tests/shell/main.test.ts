import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { MessageChannel } from 'node:worker_threads';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { connect } from '../../shared/contract/connect.ts';
import { api } from '../../shared/contract/api.ts';
import { portOffer } from '../../shared/contract/endpoints.ts';
import { portChannel } from '../../shared/contract/port-channel.ts';
import type { PortLike } from '../../shared/contract/port-channel.ts';
import { fault } from '../../shared/model/faults.ts';
import { fail, ok } from '../../shared/model/outcome.ts';
import type { Outcome } from '../../shared/model/outcome.ts';
import { fakeElectron, FakeMainPort } from './fake-electron.ts';
import type { FakeContents, FakeElectron, FakeWindow } from './fake-electron.ts';

type HostOptions = { dataFolder: string; host: string };

// Electron's binary is not available where these tests run: they test our wiring, not its behavior.
describe('the Electron entry', () => {
  let electron: FakeElectron;
  let folder: string;
  let argv: string[];
  let closed: number;
  let host: Outcome<unknown>;
  let hostOptions: HostOptions | undefined;
  let recording: boolean;
  let imports: string[][];

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'pilot-bench-shell-'));
    electron = fakeElectron();
    closed = 0;
    hostOptions = undefined;
    recording = false;
    imports = [];
    vi.stubGlobal(
      'process',
      Object.create(process, { versions: { value: { ...process.versions, electron: '45.4.1' } } }),
    );
    host = ok({
      handlers: {
        'burners.list': async () => ok([]),
        'files.import': async ({ files }: { files: { name: string }[] }) => {
          imports.push(files.map(({ name }) => name));
          return ok({ captures: [{ id: 'a', added: true }], problems: [] });
        },
      },
      isRecording: () => recording,
      close: async () => void (closed += 1),
    });
    vi.resetModules();
    vi.doMock('electron', () => electron);
    vi.doMock('../../electron/host/host.ts', () => ({
      createHost: (options: HostOptions) => {
        hostOptions = options;
        return host;
      },
    }));
    vi.doMock('../../electron/host/files/page-files.ts', () => ({
      readPageFiles: () => ok(new Map()),
      pageHeaders: () => ({}),
    }));
    argv = process.argv;
    process.argv = ['pilot-bench', `--data=${folder}`];
  });
  afterEach(() => {
    process.argv = argv;
    vi.unstubAllGlobals();
    rmSync(folder, { recursive: true, force: true });
  });

  const load = () => import('../../electron/shell/main.ts');
  async function start(): Promise<{ window: FakeWindow; contents: FakeContents }> {
    await load();
    electron.ready.resolve();
    await vi.waitFor(() => expect(electron.windows.length).toBe(1));
    const [window] = electron.windows as [FakeWindow];
    return { window, contents: window.webContents };
  }
  const prevented = (emit: (event: { preventDefault(): void; url: string }) => void, url: string) => {
    const preventDefault = vi.fn();
    emit({ preventDefault, url });
    return preventDefault.mock.calls.length > 0;
  };

  it('does everything that must come first before it waits for Electron', async () => {
    await load();
    expect(electron.order).toEqual([
      'path userData',
      'path sessionData',
      'lock',
      'sandbox',
      'scheme',
      'wait for ready',
    ]);
    expect(electron.windows).toEqual([]);
  });

  it('takes no lock and opens no window for a command, and ends with its status', async () => {
    const printed = vi.spyOn(process.stdout, 'write').mockImplementation((...args: unknown[]) => {
      const written = args.at(-1);
      if (typeof written === 'function') written();
      return true;
    });
    process.argv = ['pilot-bench', 'analyze', '--help'];
    await load();
    electron.ready.resolve();
    // The commands are loaded first, which takes its time on a busy machine.
    await vi.waitFor(() => expect(electron.app.exits).toEqual([0]), { timeout: 20_000 });
    expect(printed.mock.calls.join('')).toContain('Usage: pilot-bench analyze');
    printed.mockRestore();
    expect(electron.order).toEqual(['path userData', 'path sessionData', 'wait for ready']);
    expect(electron.app.paths.get('userData')).not.toBe(folder);
    expect(existsSync(electron.app.paths.get('userData')!)).toBe(false);
    expect(electron.windows).toEqual([]);
  });

  it('refuses the switches for a command as well', async () => {
    const told = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
    electron.app.switches.add('inspect');
    process.argv = ['pilot-bench', 'analyze', '--help'];
    await load();
    expect(electron.app.exits).toEqual([1]);
    expect(told.mock.calls.join('')).toContain('inspect');
    told.mockRestore();
  });

  it('puts the store, the lock and Chromium’s files into one data folder', async () => {
    await start();
    expect(electron.app.paths.get('userData')).toBe(folder);
    expect(electron.app.paths.get('sessionData')).toBe(join(folder, 'window'));
    expect(existsSync(join(folder, 'window'))).toBe(true);
    expect(hostOptions).toMatchObject({ dataFolder: folder, host: 'desktop', practice: true });
  });

  it('accepts --data with its folder as the next argument too, from a checkout', async () => {
    electron.app.isPackaged = false;
    process.argv = ['electron', '.', '--no-sandbox', '--data', folder];
    await start();
    expect(hostOptions?.dataFolder).toBe(folder);
  });

  it('blocks everything from a network or the disk', async () => {
    await start();
    const session = electron.session.defaultSession;
    const cancelled = (url: string) => {
      const answer = vi.fn();
      session.request?.({ url }, answer);
      return (answer.mock.calls[0] as [{ cancel: boolean }])[0].cancel;
    };
    expect(['app://workbench/a.js', 'blob:app://workbench/1', 'data:,'].map(cancelled)).toEqual([false, false, false]);
    for (const url of ['https://example.com/', 'http://127.0.0.1:80/', 'ws://127.0.0.1/', 'file:///etc/passwd'])
      expect([url, cancelled(url)]).toEqual([url, true]);
  });

  it('allows downloads only of what the page made', async () => {
    await start();
    const refused = (url: string) =>
      prevented((event) => electron.session.defaultSession.emit('will-download', event, { getURL: () => url }), url);
    expect(refused('blob:app://workbench/5f0c')).toBe(false);
    expect(refused('https://example.com/a.zip')).toBe(true);
    expect(refused('blob:https://example.com/5f0c')).toBe(true);
  });

  describe('when a page hands over a port', () => {
    const offer = (contents: FakeContents, frame: unknown = contents.mainFrame) => {
      const { port1, port2 } = new MessageChannel();
      const mine = new FakeMainPort(port1);
      electron.ipcMain.emit(portOffer, { ports: [mine], sender: contents, senderFrame: frame });
      return { mine, channel: portChannel(port2 as unknown as PortLike) };
    };

    it('serves the host on it', async () => {
      const { contents } = await start();
      const { channel } = offer(contents);
      expect(await connect(api, channel)['burners.list']({})).toEqual({ ok: true, value: [] });
      channel.close();
    });

    it('serves a page that was loaded again on its new port, and closes the old one', async () => {
      const { contents } = await start();
      const first = offer(contents);
      const second = offer(contents);
      expect(first.mine.closes).toBe(1);
      expect((await connect(api, second.channel)['burners.list']({})).ok).toBe(true);
      second.channel.close();
    });

    it('listens to no other message', async () => {
      await start();
      expect(electron.ipcMain.eventNames()).toEqual([portOffer]);
    });
  });

  it('reloads a page that crashed, and asks when it crashes again at once', async () => {
    const { window, contents } = await start();
    contents.emit('render-process-gone', {}, { reason: 'crashed' });
    expect(window.loaded.length).toBe(2);
    contents.emit('render-process-gone', {}, { reason: 'oom' });
    expect(electron.boxes.length).toBe(1);
    await vi.waitFor(() => expect(window.loaded.length).toBe(3));
    electron.dialog.answer = 1;
    contents.emit('render-process-gone', {}, { reason: 'oom' });
    await vi.waitFor(() => expect(window.destroyed).toBe(true));
    expect(window.loaded.length).toBe(3);
  });

  it('closes the host once before it ends', async () => {
    await start();
    const quit = () => prevented((event) => electron.app.emit('will-quit', event), '');
    electron.app.emit('window-all-closed');
    expect(electron.app.quits).toBe(1);
    expect(quit()).toBe(true);
    await vi.waitFor(() => expect(electron.app.quits).toBe(2));
    expect(closed).toBe(1);
    expect(quit()).toBe(false);
    expect(closed).toBe(1);
  });

  it('leaves a second start to the open desktop window', async () => {
    const { window } = await start();
    window.minimized = true;
    writeFileSync(join(folder, 'visit.csv'), 'any');
    electron.app.emit('second-instance', {}, ['pilot-bench', '--flag', 'visit.csv', 'missing.zip'], folder);
    expect([window.minimized, window.focused]).toEqual([false, 1]);
    await vi.waitFor(() => expect(electron.boxes).toEqual(['One capture was added. It is under Earlier.']));
    expect(imports).toEqual([['visit.csv']]);
  });

  it('imports a file that was opened with it, with its setup, and says so', async () => {
    for (const name of ['visit.csv', 'visit.setup.json']) writeFileSync(join(folder, name), 'any');
    process.argv.push(join(folder, 'visit.csv'));
    await start();
    await vi.waitFor(() => expect(electron.boxes).toEqual(['One capture was added. It is under Earlier.']));
    expect(imports).toEqual([['visit.csv', 'visit.setup.json']]);
  });

  it("says what to do with another logger's file that was opened with it", async () => {
    const foreign = [{ name: 'other.csv', fault: { code: 'csv-no-elapsed', message: 'use --map' } }];
    host = ok({
      handlers: {
        'burners.list': async () => ok([]),
        'files.import': async () => ok({ captures: [], problems: [], foreign }),
      },
      isRecording: () => false,
      close: async () => {},
    });
    writeFileSync(join(folder, 'other.csv'), 'any');
    process.argv.push(join(folder, 'other.csv'));
    await start();
    await vi.waitFor(() => expect(electron.boxes).toEqual(['No capture was added.']));
    expect(electron.details).toEqual([fault('file-foreign', { file: 'other.csv' }).message]);
    expect(electron.details[0]).toMatch(/^other\.csv is the file of another logger.*under Earlier/u);
  });

  it('asks before it closes in the middle of a recording, and goes on recording while it asks', async () => {
    const { window } = await start();
    recording = true;
    window.close();
    window.close();
    await vi.waitFor(() => expect(electron.boxes).toEqual(['A recording is running.']));
    expect(window.destroyed).toBe(false);
    electron.dialog.answer = 1;
    await new Promise((resolve) => setTimeout(resolve));
    window.close();
    await vi.waitFor(() => expect(window.destroyed).toBe(true));
  });

  it('closes at once when nothing is recorded', async () => {
    const { window } = await start();
    window.close();
    expect([window.destroyed, electron.boxes]).toEqual([true, []]);
  });

  it('keeps the display on while something is recorded, and only then', async () => {
    vi.useFakeTimers({ toFake: ['setInterval'] });
    try {
      await start();
      for (const isRecording of [true, false, true]) {
        recording = isRecording;
        vi.advanceTimersByTime(1000);
        expect(electron.blockers.size).toBe(isRecording ? 1 : 0);
      }
    } finally {
      vi.useRealTimers();
    }
  });

  it('says that the page could not be loaded or does not respond, and loads it again on request', async () => {
    const { window, contents } = await start();
    contents.emit('did-fail-load', {}, -3, 'ERR_ABORTED', 'app://workbench/', true);
    contents.emit('did-fail-load', {}, -6, 'ERR_FILE_NOT_FOUND', 'app://workbench/x.png', false);
    expect(electron.boxes).toEqual([]);
    contents.emit('did-fail-load', {}, -6, 'ERR_FILE_NOT_FOUND', 'app://workbench/', true);
    await vi.waitFor(() => expect(window.loaded.length).toBe(2));
    expect(electron.details).toEqual([fault('page-not-loaded', { reason: 'ERR_FILE_NOT_FOUND' }).message]);
    electron.dialog.answer = 1;
    window.emit('unresponsive');
    window.emit('unresponsive');
    await vi.waitFor(() => expect(contents.crashes).toBe(1));
    expect(electron.boxes).toEqual(['The page could not be loaded.', 'The Pilot Bench window does not respond.']);
  });

  it('opens where it was closed', async () => {
    const { window } = await start();
    window.maximize();
    window.close();
    vi.resetModules();
    electron.windows.length = 0;
    const again = await start();
    expect(again.window.options).toMatchObject({ x: 10, y: 20, width: 1100, height: 700 });
    expect(again.window.maximized).toBe(true);
  });

  it.each(['remote-debugging-port', 'remote-debugging-pipe', 'inspect', 'load-extension'])(
    'does not start with --%s, and says so',
    async (name) => {
      electron.app.switches.add(name);
      await load();
      expect(electron.app.exits).toEqual([1]);
      expect(electron.boxes.join()).toContain(`--${name}`);
      expect(electron.order).toEqual([]);
    },
  );

  it('may be debugged in a checkout', async () => {
    electron.app.isPackaged = false;
    electron.app.switches.add('remote-debugging-port');
    process.argv = ['electron', '.', `--data=${folder}`];
    await start();
    expect(electron.boxes).toEqual([]);
  });

  it('opens no store when another process has its lock', async () => {
    electron.app.locked = false;
    await load();
    expect(electron.app.quits).toBe(1);
    expect(electron.order).not.toContain('wait for ready');
    expect(hostOptions).toBeUndefined();
  });

  it('shows why it cannot start when the store is damaged, and ends with 1', async () => {
    const damaged = fault('store-damaged', { file: 'pilot-bench.db', reason: 'not a database' });
    host = fail(damaged);
    await load();
    electron.ready.resolve();
    await vi.waitFor(() => expect(electron.app.exits).toEqual([1]));
    expect(electron.boxes).toEqual([damaged.message]);
    expect(electron.windows).toEqual([]);
  });

  it('shows that its folder cannot be created, and ends with 1', async () => {
    writeFileSync(join(folder, 'file'), '');
    process.argv = ['pilot-bench', '--data', join(folder, 'file', 'inside')];
    await load();
    expect(electron.app.exits).toEqual([1]);
    expect(electron.boxes.join()).toContain(join(folder, 'file', 'inside'));
    expect(electron.order).toEqual([]);
  });
});
