import type { Page } from '@playwright/test';
import { type ChildProcess, fork, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ToElectron, ToTest } from './messages.ts';

export const root = join(import.meta.dirname, '..', '..', '..');
const { devDependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
  devDependencies: { electron: string };
};

/** How the built main file is started with a stand-in for Electron's modules. */
const onStandIn = {
  cwd: root,
  execArgv: ['--disable-warning=ExperimentalWarning', '--import', join(import.meta.dirname, 'register.ts')],
  env: { ...process.env, PILOT_BENCH_STAND_IN: devDependencies.electron },
};
const mainFile = join(root, 'out', 'main', 'main.js');

/** Runs a call of the command line in the desktop program to its end: in Electron's own binary where its path is given. */
export async function callDesktop(
  binary: string | undefined,
  args: string[],
): Promise<{ status: unknown; out: string; err: string }> {
  const child = binary
    ? spawn(binary, ['.', ...args], { cwd: root })
    : fork(mainFile, args, { ...onStandIn, silent: true });
  let [out, err] = ['', ''];
  child.stdout!.on('data', (bytes: Buffer) => (out += bytes.toString()));
  child.stderr!.on('data', (bytes: Buffer) => (err += bytes.toString()));
  const status = await new Promise((resolve) => {
    child.on('close', resolve);
  });
  return { status, out, err };
}

/** Chromium knows no app: addresses without Electron; the page is told this origin instead. */
const appOrigin = 'app://workbench';
const shownOrigin = 'http://workbench.test';

/** A running desktop program. */
export interface Desktop {
  /** The messages of its dialogs so far. Each is answered with its first button, or with the one that was named for it. */
  boxes(): Promise<string[]>;
  answerNext(button: string): Promise<void>;
  /** A click on the cross of its window. */
  clickOnClose(): Promise<void>;
  /** Its exit status. */
  ended: Promise<number | null>;
  kill(): void;
}

/**
 * Starts the program on a stand-in for Electron: its built main file in a process of its own, its built preload and page in `page`.
 * @param args  of its command line, behind Electron's own
 */
export async function startOnStandIn(page: Page, args: string[]): Promise<Desktop> {
  const child = fork(mainFile, args, { ...onStandIn, serialization: 'advanced' });
  const tell = (message: ToElectron) => void child.send(message, () => {});
  const boxes: string[] = [];
  const answers: string[] = [];
  const desktop: Desktop = {
    boxes: async () => boxes,
    answerNext: async (button) => void answers.push(button),
    clickOnClose: async () => tell({ kind: 'click on close' }),
    ended: new Promise((resolve) => {
      child.on('exit', resolve);
    }),
    kill: () => void child.kill('SIGKILL'),
  };
  // From the start: the program may be faster than what comes between here and its page.
  const firstLoad = new Promise<Extract<ToTest, { kind: 'load' }>>((resolve, reject) => {
    child.on('exit', (status) => reject(new Error(`the program ended with ${status}: ${boxes.join()}`)));
    child.on('message', (received) => {
      const message = received as ToTest;
      if (message.kind === 'load') resolve(message);
      if (message.kind === 'box') {
        boxes.push(message.message);
        const response = Math.max(0, message.buttons.indexOf(answers.shift() ?? ''));
        tell({ kind: 'answer', box: message.box, response });
      }
    });
  });
  // Its end after that is not an error.
  firstLoad.catch(() => {});
  await servePage(page, child, tell);
  await joinPorts(page, child, tell);
  page.on('crash', () => tell({ kind: 'page crashed' }));
  const first = await firstLoad;
  await page.addInitScript({ content: preloadScript(readFileSync(first.preload, 'utf8')) });
  await load(page, first.url, tell);
  // A page that is loaded again: after a crash, or on request.
  child.on('message', (received) => {
    const message = received as ToTest;
    if (message.kind === 'load') void load(page, message.url, tell);
  });
  return desktop;
}

async function load(page: Page, url: string, tell: (message: ToElectron) => void) {
  try {
    await page.goto(url.replace(appOrigin, shownOrigin));
    tell({ kind: 'loaded' });
  } catch (error) {
    tell({ kind: 'load failed', code: -6, reason: (error as Error).message, url });
  }
}

/** Answers the requests of the page from the program's own handler of its addresses, and nothing else. */
async function servePage(page: Page, child: ChildProcess, tell: (message: ToElectron) => void): Promise<void> {
  const waiting = new Map<number, (response: Extract<ToTest, { kind: 'response' }>) => void>();
  child.on('message', (received) => {
    const message = received as ToTest;
    if (message.kind === 'response') waiting.get(message.request)?.(message);
  });
  let last = 0;
  await page.route('**/*', async (route) => {
    last += 1;
    const request = last;
    const answer = await new Promise<Extract<ToTest, { kind: 'response' }>>((resolve) => {
      waiting.set(request, resolve);
      tell({ kind: 'request', request, url: route.request().url().replace(shownOrigin, appOrigin) });
    });
    waiting.delete(request);
    if (answer.status === 0) return route.abort();
    const isScript = answer.headers['content-type']?.includes('javascript');
    const body = Buffer.from(answer.body);
    await route.fulfill({
      status: answer.status,
      headers: answer.headers,
      body: isScript ? body.toString().replaceAll(appOrigin, shownOrigin) : body,
    });
  });
}

/** Joins the ports that the preload hands over with their ends in the program. */
async function joinPorts(page: Page, child: ChildProcess, tell: (message: ToElectron) => void): Promise<void> {
  await page.exposeBinding('toElectron', (_source, message: ToElectron) =>
    tell(message.kind === 'ipc' ? { ...message, url: message.url.replace(shownOrigin, appOrigin) } : message),
  );
  child.on('message', (received) => {
    const message = received as ToTest;
    if (message.kind === 'crash the page') void page.goto('chrome://crash').catch(() => {});
    if (message.kind !== 'port message' && message.kind !== 'port closed') return;
    // The page may be gone or be loaded again at this moment.
    page.evaluate((told) => (globalThis as unknown as PageSide).fromElectron(told), message).catch(() => {});
  });
}

interface PageSide {
  toElectron(message: ToElectron): Promise<void>;
  fromElectron(message: ToTest): void;
}

/** The built preload with what a sandboxed one may require: only Electron's part for it. */
const preloadScript = (source: string): string => `{
  const ports = new Map();
  globalThis.fromElectron = (message) => {
    if (message.kind === 'port message') ports.get(message.port)?.postMessage(message.data);
    if (message.kind === 'port closed') ports.get(message.port)?.close();
  };
  const ipcRenderer = {
    postMessage(channel, message, transfer) {
      const offered = transfer.map((port) => {
        const id = Math.floor(Math.random() * 2 ** 50);
        ports.set(id, port);
        port.onmessage = ({ data }) => toElectron({ kind: 'port message', port: id, data });
        port.addEventListener('close', () => toElectron({ kind: 'port closed', port: id }));
        return id;
      });
      toElectron({ kind: 'ipc', channel, message, ports: offered, url: location.href });
    },
  };
  const require = (name) => {
    if (name !== 'electron') throw new Error('module not found: ' + name);
    return { ipcRenderer };
  };
  const module = { exports: {} };
  ((exports) => { ${source} })(module.exports);
}`;
