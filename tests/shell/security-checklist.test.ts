import { globSync, readFileSync } from 'node:fs';
import { describe, expect, it, vi } from 'vitest';
import { pageHeaders } from '../../electron/host/files/page-files.ts';
import {
  answerPermissions,
  blockNavigation,
  blockNetwork,
  isLocal,
  safePreferences,
} from '../../electron/shell/security.ts';
import { oldestElectron } from '../../electron/shell/start-checks.ts';

vi.mock('electron', () => ({}));

const sources = (pattern: string) => globSync(pattern).map((file) => readFileSync(file, 'utf8'));
const shell = sources('electron/shell/**/*.ts').join('\n');
const page = sources('renderer/**/*.{ts,tsx,html,css}').join('\n');
const packing = readFileSync('electron-builder.yml', 'utf8');
const preferences = safePreferences('/preload.cjs');

/** What a handler that Electron calls was registered with. */
function registered(register: (target: never) => void): Map<string, (...args: never[]) => unknown> {
  const handlers = new Map<string, (...args: never[]) => unknown>();
  const note = (name: string) => (handler: (...args: never[]) => unknown) => void handlers.set(name, handler);
  register({
    on: (name: string, handler: (...args: never[]) => unknown) => void handlers.set(name, handler),
    setWindowOpenHandler: note('open'),
    setPermissionRequestHandler: note('request'),
    setPermissionCheckHandler: note('check'),
    setDevicePermissionHandler: note('device'),
    webRequest: { onBeforeRequest: note('before request') },
  } as never);
  return handlers;
}
const isPrevented = (handler: ((...args: never[]) => unknown) | undefined, event: object): boolean => {
  const preventDefault = vi.fn();
  handler?.({ preventDefault, ...event } as never, { getURL: () => 'https://example.org/' } as never);
  return preventDefault.mock.calls.length > 0;
};

// Source of the points and their numbers: the security checklist of Electron's documentation (docs/tutorial/security).
describe('Electron’s security checklist', () => {
  it('1: loads only our own, secure content', () => {
    expect([...shell.matchAll(/loadURL\(([^)]*)\)/g)].map(([, address]) => address)).toEqual(['`${appOrigin}/`']);
    for (const address of ['http://example.org/', 'https://example.org/', 'file:///etc/passwd', 'ws://127.0.0.1/'])
      expect([address, isLocal(address)]).toEqual([address, false]);
  });
  it('2: no Node in the page', () => {
    expect(preferences).toMatchObject({
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
    });
  });
  it('3: context isolation', () => expect(preferences.contextIsolation).toBe(true));
  it('4: the sandbox, for every process', () => {
    expect(preferences.sandbox).toBe(true);
    expect(shell).toContain('app.enableSandbox()');
  });
  it('5: permissions are refused unless listed', () => {
    const handlers = registered(answerPermissions);
    const grant = vi.fn();
    handlers.get('request')!(undefined as never, 'serial' as never, grant as never);
    expect(grant).toHaveBeenCalledWith(false);
    expect(handlers.get('check')!(undefined as never, 'media' as never)).toBe(false);
    expect(handlers.get('device')!()).toBe(false);
  });
  it('6: web security stays on', () => expect(preferences.webSecurity).toBe(true));
  it('7: a content security policy that admits only our own files', () => {
    const text = pageHeaders()['Content-Security-Policy'] ?? '';
    const parts = text.split(';').map((part) => part.trim().split(' '));
    const policy = new Map(parts.map(([name, ...values]) => [name, values.join(' ')]));
    expect(policy.get('default-src')).toBe("'none'");
    expect(policy.get('script-src')).toBe("'self'");
    for (const name of ['base-uri', 'form-action', 'frame-ancestors']) expect(policy.get(name)).toBe("'none'");
    expect([...policy.values()].join(' ')).not.toMatch(/unsafe|https?:|\*/u);
  });
  it('8: no insecure content in a secure page', () => expect(preferences.allowRunningInsecureContent).toBe(false));
  it('9: no experimental features', () => expect(preferences.experimentalFeatures).toBe(false));
  it('10: no features switched on by name', () => {
    expect(preferences).not.toHaveProperty('enableBlinkFeatures');
    expect(shell).not.toMatch(/enableBlinkFeatures|appendSwitch/u);
  });
  it('11: no webview that opens windows', () => expect(page).not.toMatch(/<webview|allowpopups/iu));
  it('12: no webview at all', () => {
    expect(preferences.webviewTag).toBe(false);
    expect(isPrevented(registered(blockNavigation).get('will-attach-webview'), {})).toBe(true);
  });
  it('13: no navigation away', () => {
    const handlers = registered(blockNavigation);
    for (const name of ['will-navigate', 'will-redirect', 'will-frame-navigate']) {
      expect(isPrevented(handlers.get(name), { url: 'https://example.org/' })).toBe(true);
      expect(isPrevented(handlers.get(name), { url: 'app://workbench/' })).toBe(false);
    }
  });
  it('14: no further windows', () => {
    expect(registered(blockNavigation).get('open')!()).toEqual({ action: 'deny' });
  });
  it('15: nothing is opened outside', () => expect(shell).not.toContain('openExternal'));
  it('16: a current Electron', () => {
    const { devDependencies } = JSON.parse(readFileSync('package.json', 'utf8')) as {
      devDependencies: { electron: string };
    };
    expect(Number.parseInt(devDependencies.electron, 10)).toBe(oldestElectron);
  });
  it('17: one listener, which checks the sender', () => {
    expect(shell.match(/ipcMain\.\w+\(/g)).toEqual(['ipcMain.on(']);
    // Who is refused: tests/shell/desktop-window.test.ts.
    expect(shell).toMatch(/frame !== event\.sender\.mainFrame \|\| !isOwnPage\(frame\.url\)/u);
  });
  it('18: no file addresses', () => {
    expect(isLocal('file:///app/index.html')).toBe(false);
    expect(shell).not.toMatch(/loadFile|file:\/\//u);
  });
  it('19: fuses', () => {
    for (const fuse of ['runAsNode', 'enableNodeOptionsEnvironmentVariable', 'enableNodeCliInspectArguments'])
      expect(packing).toContain(`${fuse}: false`);
    for (const fuse of ['enableEmbeddedAsarIntegrityValidation', 'onlyLoadAppFromAsar'])
      expect(packing).toContain(`${fuse}: true`);
  });
  it('20: nothing of Electron reaches the page', () => {
    const preload = sources('electron/shell/preload/*.ts').join('\n');
    expect(preload).not.toMatch(/contextBridge|exposeInMainWorld/u);
    expect(preload.match(/ipcRenderer\.\w+/g)).toEqual(['ipcRenderer.postMessage']);
  });
});

it('a download is only what the page made', () => {
  expect(isPrevented(registered(blockNetwork).get('will-download'), {})).toBe(true);
});
