import { afterEach, describe, expect, it, vi } from 'vitest';
import { portOffer, portRequest } from '../../shared/contract/endpoints.ts';

const held = vi.hoisted(() => ({ posted: [] as unknown[][] }));
vi.mock('electron', () => ({ ipcRenderer: { postMessage: (...sent: unknown[]) => held.posted.push(sent) } }));

describe('the preload', () => {
  afterEach(() => vi.unstubAllGlobals());

  async function load() {
    held.posted = [];
    vi.resetModules();
    const listeners: ((event: unknown) => void)[] = [];
    const toPage: [unknown, string, MessagePort[]][] = [];
    const page = {
      addEventListener: (_type: string, listener: (event: unknown) => void) => listeners.push(listener),
      postMessage: (message: unknown, origin: string, ports: MessagePort[]) => toPage.push([message, origin, ports]),
    };
    vi.stubGlobal('window', page);
    vi.stubGlobal('location', { origin: 'app://workbench' });
    const before = Object.keys(page);
    await import('../../electron/shell/preload/preload.ts');
    const say = (event: object) => {
      for (const listener of listeners)
        listener({ source: page, origin: 'app://workbench', data: portRequest, ...event });
    };
    return { say, toPage, added: Object.keys(page).filter((name) => !before.includes(name)) };
  }

  it('gives the page that asks one end of a channel, and the main process the other', async () => {
    const { say, toPage } = await load();
    say({});
    expect(toPage.length).toBe(1);
    const [message, origin, [pagePort]] = toPage[0]!;
    expect([message, origin]).toEqual([portOffer, 'app://workbench']);
    const [name, , [mainPort]] = held.posted[0] as [string, unknown, MessagePort[]];
    expect(name).toBe(portOffer);
    const heard = new Promise((resolve) => {
      mainPort?.addEventListener('message', ({ data }) => resolve(data));
      mainPort?.start();
    });
    pagePort?.postMessage('hello', []);
    expect(await heard).toBe('hello');
    pagePort?.close();
  });

  it('gives a new channel each time', async () => {
    const { say, toPage } = await load();
    say({});
    say({});
    expect(toPage.length).toBe(2);
    expect(toPage[0]?.[2][0]).not.toBe(toPage[1]?.[2][0]);
  });

  it('answers nobody else and nothing else', async () => {
    const { say, toPage } = await load();
    say({ source: {} });
    say({ origin: 'https://example.com' });
    say({ data: 'run' });
    say({ data: { kind: portRequest } });
    expect(toPage).toEqual([]);
    expect(held.posted).toEqual([]);
  });

  it('puts nothing on the window', async () => {
    expect((await load()).added).toEqual([]);
  });
});
