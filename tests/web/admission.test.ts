import { connect as connectTcp, type Socket } from 'node:net';
import { afterAll, afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { keyLimit } from '../../electron/web/access.ts';
import { encode } from '../../shared/contract/codec.ts';
import { ok } from '../../shared/model/outcome.ts';
import { keyOf, makePage, openSocket, sayHello, sendRequest, serveWith } from './test-workbench.ts';
import type { Served } from './test-workbench.ts';

const ask = encode({ kind: 'ask', id: 0, name: 'burners.list', input: {} });

describe('a page that connects', () => {
  const page = makePage();
  const called = vi.fn(async () => ok([]));
  let served: Served;
  beforeEach(async () => {
    called.mockClear();
    served = await serveWith(page.folder, { 'burners.list': called });
  });
  afterEach(() => served.workbench.close());
  afterAll(() => page.remove());

  const openNow = async () => {
    const socket = openSocket(served);
    await new Promise((resolve) => socket.once('open', resolve));
    return socket;
  };
  const closeOf = (socket: { once(name: 'close', listener: () => void): unknown }) =>
    new Promise<void>((resolve) => void socket.once('close', resolve));

  it.each([
    ['nothing', {}],
    ['a guessed key', { key: 'guess' }],
    ['a guessed token', { token: 'x'.repeat(43) }],
    ['empty texts', { key: '', token: '' }],
    ['what is no text', { key: 7 }],
    ['something more', { key: 'guess', admin: true }],
  ])('is refused when it shows %s, after a second', async (_what, shown) => {
    const socket = await openNow();
    const since = performance.now();
    const closed = closeOf(socket);
    expect(await sayHello(socket, shown)).toEqual({ kind: 'refused' });
    expect(performance.now() - since).toBeGreaterThan(950);
    await closed;
  });

  it('has one attempt on each connection, and nothing that it asks before is answered', async () => {
    const socket = await openNow();
    const answers: unknown[] = [];
    socket.on('message', (bytes) => answers.push(bytes));
    const closed = closeOf(socket);
    socket.send(ask);
    socket.send(encode({ kind: 'hello', token: served.token }));
    socket.send(ask);
    await closed;
    expect(answers).toHaveLength(1);
    expect(called).not.toHaveBeenCalled();
  });

  it('uses a key once, also when two pages show it at the same moment', async () => {
    const key = keyOf(served.workbench.newAddress());
    const sockets = [await openNow(), await openNow()];
    const answers = await Promise.all(sockets.map((socket) => sayHello(socket, { key })));
    expect(new Set(answers.map((answer) => answer?.kind))).toEqual(new Set(['refused', 'welcome']));
    expect((await sayHello(await openNow(), { key }))?.kind).toBe('refused');
  });

  it('gets a token of its own, which ends with this run', async () => {
    const first = await sayHello(await openNow(), { key: keyOf(served.workbench.newAddress()) });
    const other = await sayHello(await openNow(), { key: keyOf(served.workbench.newAddress()) });
    const secret = expect.stringMatching(/^[\w-]{43}$/u) as string;
    expect(first).toEqual({ kind: 'welcome', token: secret, proof: secret });
    expect(other).not.toEqual(first);
    const next = await serveWith(page.folder, {});
    const token = first?.kind === 'welcome' ? first.token : '';
    expect(await sayHello(openSocket(next), { token })).toEqual({ kind: 'refused' });
    expect(await sayHello(await openNow(), { token })).toEqual(first);
    await next.workbench.close();
  });

  it('may be given the newest addresses only: older ones that nobody used do not count', async () => {
    const keys = Array.from({ length: keyLimit + 1 }, () => keyOf(served.workbench.newAddress()));
    expect((await sayHello(await openNow(), { key: keys[0] }))?.kind).toBe('refused');
    expect((await sayHello(await openNow(), { key: keys[1] }))?.kind).toBe('welcome');
  });

  it('is disconnected when it sends more than a hello before it is admitted, in one message or in parts', async () => {
    for (const parts of [1, 40]) {
      const socket = await openNow();
      const closed = closeOf(socket);
      const since = performance.now();
      for (let i = 0; i < parts; i += 1) socket.send(new Uint8Array(4000 / parts), { fin: i === parts - 1 });
      await closed;
      expect(performance.now() - since).toBeLessThan(900);
    }
  });

  it('is disconnected when it is silent for five seconds', async () => {
    const since = performance.now();
    await closeOf(await openNow());
    const seconds = (performance.now() - since) / 1000;
    expect(seconds).toBeGreaterThan(4.5);
    expect(seconds).toBeLessThan(7);
  });

  it('is let in while somebody else floods the port, and one that is in stays; the connections of others are bounded', async () => {
    const inside = await openNow();
    await sayHello(inside, { token: served.token });
    const answered = () =>
      new Promise((resolve) => {
        inside.once('message', resolve);
        inside.send(encode({ kind: 'ask', id: called.mock.calls.length, name: 'burners.list', input: {} }));
      });
    await answered();

    const [host, port] = served.authority.split(':');
    let connected = 0;
    let open = 0;
    const flood: Socket[] = Array.from({ length: 300 }, (_, i) => {
      const socket = connectTcp({ host, port: Number(port) });
      socket.on('connect', () => {
        connected += 1;
        open += 1;
      });
      socket.on('error', () => {});
      socket.on('close', () => (open -= 1));
      // Half of them begin a request and never end it.
      if (i % 2) socket.write('GET / HTTP/1.1\r\n');
      return socket;
    });
    await vi.waitFor(() => expect(connected).toBe(flood.length), { timeout: 10_000 });
    // Before those that say nothing are ended for that, after five seconds.
    await vi.waitFor(() => expect(open).toBeLessThanOrEqual(64), { timeout: 4000 });
    await answered();
    expect((await sendRequest(served.authority, served.pageFolder)).status).toBe(200);
    expect((await sayHello(await openNow(), { key: keyOf(served.workbench.newAddress()) }))?.kind).toBe('welcome');
    await answered();
    for (const socket of flood) socket.destroy();
    inside.terminate();
  });
});
