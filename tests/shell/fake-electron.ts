import { EventEmitter } from 'node:events';
import type { MessagePort } from 'node:worker_threads';

// A stand-in for the part of Electron that our entry uses, which records the calls. It tests our wiring, not Electron's behavior.

type Answer = { cancel: boolean };
type Box = { message: string; detail?: string; buttons: string[]; signal?: AbortSignal };

export class FakeFrame {
  url = 'app://workbench/';
}

export class FakeContents extends EventEmitter {
  mainFrame = new FakeFrame();
  crashes = 0;
  setWindowOpenHandler(): void {}
  forcefullyCrashRenderer(): void {
    this.crashes += 1;
  }
}

interface WindowOptions {
  x?: number;
  y?: number;
  width?: number;
  height?: number;
  webPreferences?: Record<string, unknown>;
}

export class FakeWindow extends EventEmitter {
  webContents = new FakeContents();
  loaded: string[] = [];
  shown = 0;
  focused = 0;
  destroyed = false;
  minimized = false;
  maximized = false;
  options: WindowOptions;
  constructor(options: WindowOptions) {
    super();
    this.options = options;
  }
  async loadURL(url: string): Promise<void> {
    this.loaded.push(url);
  }
  show(): void {
    this.shown += 1;
  }
  focus(): void {
    this.focused += 1;
  }
  isMinimized = () => this.minimized;
  restore(): void {
    this.minimized = false;
  }
  maximize(): void {
    this.maximized = true;
  }
  isMaximized = () => this.maximized;
  getNormalBounds = () => ({ x: 10, y: 20, width: 1100, height: 700 });
  /** Like a click on its cross: it stays when somebody prevents it. */
  close(): void {
    let prevented = false;
    this.emit('close', { preventDefault: () => (prevented = true) });
    if (!prevented) this.destroy();
  }
  destroy(): void {
    this.destroyed = true;
  }
}

/** A port of the main process over one of Node's. */
export class FakeMainPort extends EventEmitter {
  readonly port: MessagePort;
  closes = 0;
  constructor(port: MessagePort) {
    super();
    this.port = port;
    port.on('close', () => this.emit('close'));
  }
  start(): void {
    this.port.on('message', (data: unknown) => this.emit('message', { data }));
  }
  postMessage(message: unknown): void {
    this.port.postMessage(message, []);
  }
  close(): void {
    this.closes += 1;
    this.port.close();
  }
}

export class FakeSession extends EventEmitter {
  request: ((details: { url: string }, answer: (answer: Answer) => void) => void) | undefined;
  setPermissionRequestHandler(): void {}
  setPermissionCheckHandler(): void {}
  setDevicePermissionHandler(): void {}
  webRequest = {
    onBeforeRequest: (handler: NonNullable<FakeSession['request']>) => {
      this.request = handler;
    },
  };
}

export function fakeElectron() {
  const windows: FakeWindow[] = [];
  const order: string[] = [];
  const ready = Promise.withResolvers<void>();
  const app = Object.assign(new EventEmitter(), {
    isPackaged: true,
    locked: true,
    paths: new Map<string, string>(),
    exits: [] as number[],
    quits: 0,
    switches: new Set<string>(),
    commandLine: { hasSwitch: (name: string): boolean => app.switches.has(name) },
    setAboutPanelOptions: () => {},
    enableSandbox: () => void order.push('sandbox'),
    requestSingleInstanceLock() {
      order.push('lock');
      return app.locked;
    },
    setPath: (name: string, path: string) => {
      order.push(`path ${name}`);
      app.paths.set(name, path);
    },
    whenReady: () => {
      order.push('wait for ready');
      return ready.promise;
    },
    quit: () => void (app.quits += 1),
    exit: (status: number) => void app.exits.push(status),
  });
  const protocol = { registerSchemesAsPrivileged: () => void order.push('scheme'), handle: () => {} };
  const boxes: string[] = [];
  const details: string[] = [];
  const dialog = {
    answer: 0,
    showErrorBox: (_title: string, text: string) => void boxes.push(text),
    showMessageBox: async (...args: unknown[]) => {
      boxes.push((args.at(-1) as Box).message);
      details.push((args.at(-1) as Box).detail ?? '');
      return { response: dialog.answer };
    },
  };
  class BrowserWindow extends FakeWindow {
    static getAllWindows = () => windows;
    constructor(options: FakeWindow['options']) {
      super(options);
      windows.push(this);
      app.emit('web-contents-created', {}, this.webContents);
    }
  }
  const screen = { getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1366, height: 728 } }] };
  const blockers = new Set<number>();
  const powerSaveBlocker = {
    start(): number {
      blockers.add(1);
      return 1;
    },
    stop: (id: number) => void blockers.delete(id),
  };
  const utilityProcess = {};
  const ipcMain = new EventEmitter();
  const session = { defaultSession: new FakeSession() };
  const Menu = { buildFromTemplate: (template: unknown) => template, setApplicationMenu: () => {} };
  return {
    app,
    protocol,
    dialog,
    boxes,
    details,
    windows,
    order,
    ready,
    ipcMain,
    session,
    Menu,
    BrowserWindow,
    screen,
    blockers,
    powerSaveBlocker,
    utilityProcess,
  };
}

export type FakeElectron = ReturnType<typeof fakeElectron>;
