// A stand-in for the modules of Electron that the desktop program uses, for tests where Electron's binary is not to be had. The page is a
// real one in Chromium, in the test's hands; this side answers as Electron's main process does and refuses what that refuses. What it does
// follows Electron's documentation (electronjs.org/docs/latest/api); that Electron itself does so is not shown by it.
import type Electron from 'electron';
import { fork } from 'node:child_process';
import { EventEmitter } from 'node:events';
import { existsSync } from 'node:fs';
import type { ToElectron, ToTest } from './messages.ts';

const tell = (message: ToTest): void => void process.send?.(message, () => {});

/** Refuses what may only be called before, or only after, the program is ready. */
let isReady = false;
const mustBe = (ready: boolean, what: string): void => {
  if (isReady !== ready) throw new Error(`${what} can only be called ${ready ? 'after' : 'before'} the app is ready`);
};

class App extends EventEmitter {
  readonly isPackaged = false;
  readonly commandLine = { hasSwitch: (name: string) => process.argv.includes(`--${name}`) };
  readonly #ready = new Promise<void>((resolve) => {
    setTimeout(() => {
      isReady = true;
      resolve();
    }, 20);
  });
  whenReady = () => this.#ready;
  enableSandbox = () => mustBe(false, 'app.enableSandbox');
  requestSingleInstanceLock = () => true;
  setAboutPanelOptions(): void {}
  setPath(_name: string, path: string): void {
    if (!existsSync(path)) throw new Error(`app.setPath: there is no ${path}`);
  }
  /** Closes the windows first; one that prevents it keeps the program. */
  quit(): void {
    for (const window of BrowserWindow.getAllWindows()) window.close();
    if (BrowserWindow.getAllWindows().length > 0) return;
    if (wasPrevented((event) => this.emit('will-quit', event))) return;
    this.exit(0);
  }
  exit = (status: number) => process.exit(status);
}

/** Emits an event that its listeners can prevent. */
function wasPrevented(emit: (event: { preventDefault(): void }) => void): boolean {
  let prevented = false;
  emit({ preventDefault: () => (prevented = true) });
  return prevented;
}

type Handler = (request: Request) => Response | Promise<Response>;
const schemes = new Set<string>();
const handlers = new Map<string, Handler>();
export const protocol = {
  registerSchemesAsPrivileged(list: Electron.CustomScheme[]) {
    mustBe(false, 'protocol.registerSchemesAsPrivileged');
    for (const { scheme } of list) schemes.add(scheme);
  },
  handle(scheme: string, handler: Handler) {
    mustBe(true, 'protocol.handle');
    handlers.set(scheme, handler);
  },
};

class Session extends EventEmitter {
  requestHandler: ((details: { url: string }, answer: (answer: { cancel?: boolean }) => void) => void) | undefined;
  readonly webRequest = {
    onBeforeRequest: (handler: NonNullable<Session['requestHandler']>) => (this.requestHandler = handler),
  };
  setPermissionRequestHandler(): void {}
  setPermissionCheckHandler(): void {}
  setDevicePermissionHandler(): void {}
}
const defaultSession = new Session();
export const session = {
  get defaultSession() {
    mustBe(true, 'session.defaultSession');
    return defaultSession;
  },
};

class WebContents extends EventEmitter {
  readonly mainFrame = { url: '' };
  setWindowOpenHandler(): void {}
  forcefullyCrashRenderer = () => tell({ kind: 'crash the page' });
}

export class BrowserWindow extends EventEmitter {
  static readonly #all: BrowserWindow[] = [];
  static getAllWindows = () => [...BrowserWindow.#all];
  readonly webContents = new WebContents();
  readonly #preload: string;
  constructor({ webPreferences = {} }: Electron.BrowserWindowConstructorOptions) {
    super();
    mustBe(true, 'new BrowserWindow');
    if (!webPreferences.preload || !existsSync(webPreferences.preload)) throw new Error('there is no preload script');
    this.#preload = webPreferences.preload;
    BrowserWindow.#all.push(this);
    app.emit('web-contents-created', {}, this.webContents);
  }
  async loadURL(url: string): Promise<void> {
    if (!schemes.has(new URL(url).protocol.slice(0, -1))) throw new Error(`ERR_UNKNOWN_URL_SCHEME: ${url}`);
    this.webContents.mainFrame.url = url;
    tell({ kind: 'load', url, preload: this.#preload });
  }
  show(): void {}
  focus(): void {}
  restore(): void {}
  maximize(): void {}
  isMinimized = () => false;
  isMaximized = () => false;
  getNormalBounds = () => ({ x: 0, y: 0, width: 1366, height: 768 });
  close(): void {
    if (!wasPrevented((event) => this.emit('close', event))) this.destroy();
  }
  destroy(): void {
    BrowserWindow.#all.splice(BrowserWindow.#all.indexOf(this), 1);
    tell({ kind: 'destroyed' });
    this.emit('closed');
    if (BrowserWindow.#all.length === 0) app.emit('window-all-closed');
  }
}

export const app = new App();
export const ipcMain = new EventEmitter();
export const Menu = { buildFromTemplate: (template: unknown[]) => template, setApplicationMenu(): void {} };
export const powerSaveBlocker = { start: () => 1, stop(): void {} };
export const screen = {
  getAllDisplays() {
    mustBe(true, 'screen.getAllDisplays');
    return [{ workArea: { x: 0, y: 0, width: 1366, height: 768 } }];
  },
};

const openBoxes = new Map<number, (response: number) => void>();
let lastBox = 0;
export const dialog = {
  showMessageBox(...args: [...unknown[], Electron.MessageBoxOptions]) {
    const { message, buttons = [] } = args.at(-1) as Electron.MessageBoxOptions;
    lastBox += 1;
    tell({ kind: 'box', box: lastBox, message, buttons });
    return new Promise<{ response: number }>((resolve) => {
      openBoxes.set(lastBox, (response) => resolve({ response }));
    });
  },
  showErrorBox: (_title: string, message: string) => tell({ kind: 'box', box: 0, message, buttons: [] }),
};

// As https://www.electronjs.org/docs/latest/api/parent-port has it, over the channel of a child process.
const parentPort = `data:text/javascript,process.parentPort = {
  on: (name, listener) => process.on(name, (data) => listener({ data })),
  postMessage: (message) => process.send(message),
};`;
export const utilityProcess = {
  fork(module: string, args: string[] = [], { execArgv = [] }: Electron.ForkOptions = {}) {
    mustBe(true, 'utilityProcess.fork');
    const child = fork(module, args, { execArgv: [...execArgv, '--import', parentPort], serialization: 'advanced' });
    const utility = Object.assign(new EventEmitter(), {
      postMessage: (message: unknown) => void child.send(structuredClone(message) as object),
      kill: () => child.kill(),
    });
    child.on('message', (message) => utility.emit('message', message));
    child.on('exit', (status) => utility.emit('exit', status ?? 1));
    return utility;
  },
};

/** The main process's end of a port whose other end is in the page. Messages wait until it is started. */
class MessagePortMain extends EventEmitter {
  readonly #port: number;
  #waiting: unknown[] | undefined = [];
  constructor(port: number) {
    super();
    this.#port = port;
  }
  receive(data: unknown): void {
    if (this.#waiting) this.#waiting.push(data);
    else this.emit('message', { data });
  }
  start(): void {
    const waiting = this.#waiting ?? [];
    this.#waiting = undefined;
    for (const data of waiting) this.emit('message', { data });
  }
  // Throws for what cannot be cloned.
  postMessage = (message: unknown) => tell({ kind: 'port message', port: this.#port, data: structuredClone(message) });
  close(): void {
    if (ports.delete(this.#port)) tell({ kind: 'port closed', port: this.#port });
  }
}
const ports = new Map<number, MessagePortMain>();

async function answerRequest(request: number, url: string): Promise<void> {
  let cancelled = false;
  defaultSession.requestHandler?.({ url }, ({ cancel = false }) => (cancelled = cancel));
  const handler = handlers.get(new URL(url).protocol.slice(0, -1));
  const response = cancelled || !handler ? Response.error() : await handler(new Request(url));
  const body = new Uint8Array(await response.arrayBuffer());
  tell({ kind: 'response', request, status: response.status, headers: Object.fromEntries(response.headers), body });
}

function receive(message: ToElectron): void {
  const [window] = BrowserWindow.getAllWindows();
  switch (message.kind) {
    case 'request':
      return void answerRequest(message.request, message.url);
    case 'loaded':
      return void window?.emit('ready-to-show');
    case 'load failed':
      return void window?.webContents.emit('did-fail-load', {}, message.code, message.reason, message.url, true);
    case 'page crashed':
      return void window?.webContents.emit('render-process-gone', {}, { reason: 'crashed' });
    case 'click on close':
      return window?.close();
    case 'answer':
      return openBoxes.get(message.box)?.(message.response);
    case 'port message':
      return ports.get(message.port)?.receive(message.data);
    case 'port closed':
      ports.get(message.port)?.emit('close');
      return void ports.delete(message.port);
    case 'ipc': {
      const offered = message.ports.map((port) => new MessagePortMain(port));
      message.ports.forEach((port, i) => ports.set(port, offered[i]!));
      const frame = { url: message.url };
      const sender = Object.assign(window!.webContents, { mainFrame: frame });
      return void ipcMain.emit(message.channel, { ports: offered, senderFrame: frame, sender }, message.message);
    }
  }
}
process.on('message', (message) => receive(message as ToElectron));

// Types only: nothing is called here that Electron does not have under this name.
type Known<T extends never> = T;
export type Checked = [
  Known<Exclude<keyof App, keyof Electron.App>>,
  Known<Exclude<keyof BrowserWindow, keyof Electron.BrowserWindow>>,
  Known<Exclude<keyof WebContents, keyof Electron.WebContents>>,
  Known<Exclude<keyof typeof dialog, keyof Electron.Dialog>>,
  Known<Exclude<keyof typeof protocol, keyof Electron.Protocol>>,
  Known<Exclude<keyof typeof screen, keyof Electron.Screen>>,
  Known<Exclude<keyof typeof powerSaveBlocker, keyof Electron.PowerSaveBlocker>>,
];
