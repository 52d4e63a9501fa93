import { afterEach, describe, expect, it, vi } from 'vitest';
import { portOffer, portRequest } from '../../shared/contract/endpoints.ts';

const sent = vi.hoisted(() => ({ posted: [] as unknown[][] }));
vi.mock('electron', () => ({ ipcRenderer: { postMessage: (...message: unknown[]) => sent.posted.push(message) } }));

describe('the preload', () => {
  afterEach(() => vi.unstubAllGlobals());

  async function load() {
    sent.posted = [];
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
    const post = (event: object) => {
      for (const listener of listeners)
        listener({ source: page, origin: 'app://workbench', data: portRequest, ...event });
    };
    return { post, toPage, added: Object.keys(page).filter((name) => !before.includes(name)) };
  }

  it('gives the requesting page one end of a channel, and the main process the other', async () => {
    const { post, toPage } = await load();
    post({});
    expect(toPage.length).toBe(1);
    const [message, origin, [pagePort]] = toPage[0]!;
    expect([message, origin]).toEqual([portOffer, 'app://workbench']);
    const [name, , [mainPort]] = sent.posted[0] as [string, unknown, MessagePort[]];
    expect(name).toBe(portOffer);
    const received = new Promise((resolve) => {
      mainPort?.addEventListener('message', ({ data }) => resolve(data));
      mainPort?.start();
    });
    pagePort?.postMessage('hello', []);
    expect(await received).toBe('hello');
    pagePort?.close();
  });

  it('gives a new channel for each request', async () => {
    const { post, toPage } = await load();
    post({});
    post({});
    expect(toPage.length).toBe(2);
    expect(toPage[0]?.[2][0]).not.toBe(toPage[1]?.[2][0]);
  });

  it('answers no other sender and no other message', async () => {
    const { post, toPage } = await load();
    post({ source: {} });
    post({ origin: 'https://example.com' });
    post({ data: 'run' });
    post({ data: { kind: portRequest } });
    expect(toPage).toEqual([]);
    expect(sent.posted).toEqual([]);
  });

  it('puts nothing on the window', async () => {
    expect((await load()).added).toEqual([]);
  });
});
