import { beforeEach, describe, expect, it, vi } from 'vitest';

// Electron's binary is not available where these tests run: they test our wiring, not its behavior.
const electron = vi.hoisted(() => {
  const state = {
    options: undefined as Record<string, unknown> | undefined,
    loaded: '',
    listeners: new Map<string, (event: { url: string; preventDefault(): void }) => void>(),
    openHandler: undefined as (() => { action: string }) | undefined,
    permission: undefined as ((contents: unknown, name: string, answer: (yes: boolean) => void) => void) | undefined,
    check: undefined as ((contents: unknown, name: string) => boolean) | undefined,
    device: undefined as (() => boolean) | undefined,
    port: undefined as ((event: unknown) => void) | undefined,
    handle: undefined as ((request: { url: string; method: string }) => Response) | undefined,
  };
  return state;
});

vi.mock('electron', () => ({
  dialog: {},
  BrowserWindow: class {
    constructor(options: Record<string, unknown>) {
      electron.options = options;
    }
    webContents = { on: () => {} };
    once() {}
    on() {}
    show() {}
    loadURL(url: string) {
      electron.loaded = url;
      return Promise.resolve();
    }
  },
  ipcMain: { on: (_name: string, listener: (event: unknown) => void) => void (electron.port = listener) },
  protocol: {
    registerSchemesAsPrivileged: () => {},
    handle: (_scheme: string, handler: (request: { url: string; method: string }) => Response) =>
      void (electron.handle = handler),
  },
}));

const { openDesktopWindow: openWindow } = await import('../../electron/shell/desktop-window.ts');
const { answerPermissions, blockNavigation, isOwnPage: isOurs } = await import('../../electron/shell/security.ts');
const { acceptPorts } = await import('../../electron/shell/page-port.ts');
const { servePage } = await import('../../electron/shell/app-protocol.ts');

beforeEach(() => electron.listeners.clear());

// Source of the points: the security checklist of Electron's documentation (tutorial/security).
describe('the desktop window', () => {
  it('has a sandbox, context isolation and no Node, and loads only our own scheme', () => {
    openWindow();
    expect(electron.loaded).toBe('app://workbench/');
    expect(electron.options?.['webPreferences']).toMatchObject({
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
    });
    expect(electron.options?.['webPreferences']).not.toHaveProperty('enableBlinkFeatures');
  });

  it('does not navigate', () => {
    blockNavigation({
      on: (name: string, listener: never) => electron.listeners.set(name, listener),
      setWindowOpenHandler: (handler: never) => (electron.openHandler = handler),
    } as never);
    for (const name of ['will-navigate', 'will-redirect', 'will-frame-navigate'])
      for (const [url, stays] of [
        ['https://example.org/', true],
        ['app://workbench.example.org/', true],
        ['app://workbench/index.html', false],
      ] as const) {
        const preventDefault = vi.fn();
        electron.listeners.get(name)!({ url, preventDefault });
        expect(preventDefault).toHaveBeenCalledTimes(stays ? 1 : 0);
      }
    expect(electron.openHandler!()).toEqual({ action: 'deny' });
  });

  it.each(['https://workbench/', 'app://workbench@evil/', 'app://', 'file:///app://workbench/', '', 7, undefined])(
    'does not accept %j as our own page',
    (url) => expect(isOurs(url)).toBe(false),
  );

  it('refuses permissions that a page requests, serial ports among them', () => {
    answerPermissions({
      setPermissionRequestHandler: (handler: never) => (electron.permission = handler),
      setPermissionCheckHandler: (handler: never) => (electron.check = handler),
      setDevicePermissionHandler: (handler: never) => (electron.device = handler),
    } as never);
    for (const name of ['serial', 'media', 'geolocation', 'notifications', 'toString']) {
      const answer = vi.fn();
      electron.permission!(undefined, name, answer);
      expect(answer).toHaveBeenCalledWith(false);
      expect(electron.check!(undefined, name)).toBe(false);
    }
    expect(electron.device!()).toBe(false);
  });
});

describe('the port to the host', () => {
  const port = () => ({ close: vi.fn(), on: vi.fn(), start: vi.fn(), postMessage: vi.fn() });
  acceptPorts({} as never, () => {});

  it('is accepted from the main frame of our own page', () => {
    const given = port();
    const frame = { url: 'app://workbench/' };
    electron.port!({ ports: [given], senderFrame: frame, sender: { mainFrame: frame } });
    expect(given.close).not.toHaveBeenCalled();
    expect(given.start).toHaveBeenCalled();
  });

  it.each([
    ['another frame', { url: 'app://workbench/' }, { url: 'app://workbench/' }],
    ['another address', 'same', { url: 'https://example.org/' }],
    ['a frame that is gone', null, { url: 'app://workbench/' }],
  ])('is closed when it comes from %s', (_who, sender, main) => {
    const given = port();
    electron.port!({ ports: [given], senderFrame: sender === 'same' ? main : sender, sender: { mainFrame: main } });
    expect(given.close).toHaveBeenCalled();
    expect(given.start).not.toHaveBeenCalled();
  });
});

describe('the page', () => {
  it('is served by name, with its policy, and nothing else is found', async () => {
    servePage(new Map([['/index.html', { bytes: new TextEncoder().encode('hello'), type: 'text/html' }]]));
    const answer = electron.handle!({ url: 'app://workbench/index.html', method: 'GET' });
    expect(await answer.text()).toBe('hello');
    expect(answer.headers.get('Content-Security-Policy')).toContain("default-src 'none'");
    for (const url of [
      'app://workbench/../package.json',
      'app://other/index.html',
      'app://workbench/%2e%2e/package.json',
    ])
      expect(electron.handle!({ url, method: 'GET' }).status).toBe(404);
  });
});
