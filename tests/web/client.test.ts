import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, afterEach, describe, expect, it, onTestFinished, vi } from 'vitest';
import type { WebSocket as NodeSocket } from 'ws';
import { createClient } from '../../renderer/api/client.ts';
import type { ConnectionStatus } from '../../renderer/api/client.ts';
import { enterWorkbench } from '../../renderer/api/enter-workbench.ts';
import type { Admission, Entered, Place } from '../../renderer/api/enter-workbench.ts';
import { openSocket as openChannelOver } from '../../renderer/api/socket-channel.ts';
import type { Api } from '../../shared/contract/api.ts';
import { encode, messageLimitBytes } from '../../shared/contract/codec.ts';
import type { Channel } from '../../shared/contract/define.ts';
import type { Handlers } from '../../shared/contract/serve.ts';
import { ok } from '../../shared/model/outcome.ts';
import { keyOf, makePage, openSocket, sayHello, serveWith } from './test-workbench.ts';
import type { Served } from './test-workbench.ts';

const stored = 5000;

/** A socket as our page would open it, admitted, without the client. */
async function openRawSocket(served: Served): Promise<NodeSocket> {
  const socket = openSocket(served);
  await sayHello(socket, { token: served.token });
  return socket;
}

/** What a browser has: the key in the address of a page, and what is stored for its origin. */
function placeWith(has: { key?: string; kept?: Admission | undefined }): Place & { has: typeof has } {
  return {
    has,
    key: () => has.key,
    kept: () => has.kept,
    keep(admission) {
      has.kept = admission;
      delete has.key;
    },
  };
}

/** Yields stored readings in batches of ten, as a store would, and then waits for more. */
const readings: Pick<Handlers<Api>, 'readings.live'> = {
  'readings.live': async function* ({ after }, signal) {
    for (let from = after; from < stored; from += 10) {
      const elapsedS = Float64Array.from({ length: 10 }, (_, index) => from + index + 1);
      await wait(1);
      const none = new Uint8Array(10);
      yield { upTo: from + 10, role: none, flag: none, elapsedS, value: elapsedS };
    }
    await new Promise<void>((resolve) => signal.addEventListener('abort', () => resolve(), { once: true }));
  },
};

describe('the client of the page', () => {
  const page = makePage();
  let served: Served | undefined;
  let channels: Channel[] = [];
  afterEach(async () => {
    const last = served;
    served = undefined;
    await last?.workbench.close();
    channels = [];
  });
  afterAll(() => page.remove());

  /** Opens as a browser does: from our own page, with its token; to this workbench and no later one. */
  const openTo =
    (workbench: Served, place: Place = placeWith({ kept: workbench.admission })) =>
    async (): Promise<Entered> => {
      const channel = await openChannelOver(openSocket(workbench) as unknown as WebSocket);
      const entered = channel && (await enterWorkbench(channel, place));
      if (typeof entered === 'object') channels.push(entered);
      return entered;
    };

  it('queues calls made before it is connected, and answers them then', async () => {
    served = await serveWith(page.folder, { 'burners.list': async () => ok([]) });
    const { host, connection } = createClient(openTo(served));
    expect(connection.status()).toBe('connecting');
    expect(await host['burners.list']({})).toEqual({ ok: true, value: [] });
    expect(connection.status()).toBe('connected');
  });

  it('reports that the host is gone when there is none', async () => {
    const { host, connection } = createClient(async () => undefined);
    const answer = await host['burners.list']({});
    expect(answer.ok ? undefined : answer.fault.code).toBe('host-gone');
    const end = await new Promise((resolve) => host['store.live']({}, () => {}, resolve));
    expect(end).toMatchObject({ code: 'host-gone' });
    expect(connection.status()).toBe('lost');
  });

  it('is admitted by the key of its address once, and by its token from then on', async () => {
    served = await serveWith(page.folder, { 'burners.list': async () => ok([]) });
    const key = keyOf(served.workbench.newAddress());
    const browser = placeWith({ key });
    const { host, connection } = createClient(openTo(served, browser));
    expect((await host['burners.list']({})).ok).toBe(true);
    expect(browser.has.key).toBeUndefined();
    const reloaded = createClient(openTo(served, placeWith({ kept: browser.has.kept })));
    expect((await reloaded.host['burners.list']({})).ok).toBe(true);
    // The same address in the same browser again, and in another one.
    const again = createClient(openTo(served, placeWith({ key, kept: browser.has.kept })));
    expect((await again.host['burners.list']({})).ok).toBe(true);
    const other = createClient(openTo(served, placeWith({ key })));
    expect((await other.host['burners.list']({})).ok).toBe(false);
    expect([other.connection.status(), other.connection.refusal()]).toEqual(['lost', 'address-used']);
    expect(connection.refusal()).toBeUndefined();
  });

  it('gives out a new address for one more browser', async () => {
    served = await serveWith(page.folder, {});
    const { host } = createClient(openTo(served));
    const given = await host['address.new']({});
    const key = given.ok ? keyOf(given.value.address) : '';
    const more = createClient(openTo(served, placeWith({ key })));
    expect((await more.host['address.new']({})).ok).toBe(true);
  });

  it('is told that the host was restarted, and goes on when another window of its browser has a new token', async () => {
    const first = await serveWith(page.folder, {});
    const browser = placeWith({ kept: first.admission });
    let current = first;
    const { host, connection } = createClient(() => openTo(current, browser)());
    expect((await host['address.new']({})).ok).toBe(true);
    served = await serveWith(page.folder, {});
    current = served;
    await first.workbench.close();
    await vi.waitFor(() => expect(connection.refusal()).toBe('restarted'), { timeout: 10_000 });
    browser.has.kept = served.admission;
    await vi.waitFor(() => expect(connection.status()).toBe('connected'), { timeout: 10_000 });
    expect(connection.refusal()).toBeUndefined();
  });

  it.each([
    ['nothing', undefined],
    ['what is no answer', { kind: 'done', id: 1 }],
    ['a welcome without a token', { kind: 'welcome' }],
  ])('takes for gone what says %s on its port', async (_what, answer) => {
    vi.useFakeTimers();
    onTestFinished(() => void vi.useRealTimers());
    const close = vi.fn();
    const kept = { token: 'of an earlier run', proof: 'of that run' };
    const browser = placeWith({ kept });
    const onMessage = (listener: (message: unknown) => void) => {
      if (answer) listener(answer);
    };
    const entering = enterWorkbench({ post: () => undefined, onMessage, onClose: () => {}, close }, browser);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(await entering).toBeUndefined();
    expect(close).toHaveBeenCalled();
    expect(browser.has.kept).toEqual(kept);
  });

  it('follows no program that took the port of its host and welcomes everybody', async () => {
    const browser = placeWith({ kept: { token: 'shown to anybody', proof: 'known to the host' } });
    const seen: unknown[] = [];
    const channel = {
      post: (message: unknown) => void seen.push(message),
      onMessage: (listener: (message: unknown) => void) =>
        listener({ kind: 'welcome', token: 'shown to anybody', proof: 'guessed' }),
      onClose: () => {},
      close: () => {},
    } as unknown as Channel;
    expect(await enterWorkbench(channel, browser)).toBe('refused');
    expect(browser.has.kept?.proof).toBe('known to the host');
    // What proves the host is never shown to whoever answers.
    expect(JSON.stringify(seen)).not.toContain('known to the host');
  });

  it('starts no feed that was stopped before it was connected', async () => {
    const started = vi.fn();
    served = await serveWith(page.folder, {
      'burners.list': async () => ok([]),
      'store.live': async function* () {
        started();
        yield { windows: 1 };
      },
    });
    const { host } = createClient(openTo(served));
    host['store.live']({}, () => {})();
    await host['burners.list']({});
    expect(started).not.toHaveBeenCalled();
  });

  it('reconnects after each loss, and readings continue where they were: none missing, none repeated', async () => {
    served = await serveWith(page.folder, readings);
    const { host, connection } = createClient(openTo(served));
    const changes: ConnectionStatus[] = [];
    const seen: number[] = [];
    let upTo = 0;
    const follow = () =>
      host['readings.live']({ capture: 'c1', after: upTo }, (batch) => {
        upTo = batch.upTo;
        seen.push(...batch.elapsedS);
      });
    connection.subscribe(() => {
      changes.push(connection.status());
      if (connection.status() === 'connected') follow();
    });
    for (const enough of [150, 400, 700]) {
      await vi.waitFor(() => expect(seen.length).toBeGreaterThan(enough), { timeout: 10_000 });
      // Enough readings may be on their way before the page is connected again; an old channel cannot be lost twice.
      await vi.waitFor(() => expect(connection.status()).toBe('connected'), { timeout: 10_000 });
      const losses = changes.filter((change) => change === 'lost').length;
      channels.at(-1)?.close();
      await vi.waitFor(() => expect(changes.filter((change) => change === 'lost').length).toBe(losses + 1), {
        timeout: 10_000,
      });
    }
    await vi.waitFor(() => expect(seen.length).toBe(stored), { timeout: 10_000 });
    expect(seen).toEqual(Array.from({ length: stored }, (_, index) => index + 1));
    expect(changes).toEqual(['connected', 'lost', 'connected', 'lost', 'connected', 'lost', 'connected']);
  });

  it('does not send a message that is too large for the host, reports its size, and stays connected', async () => {
    served = await serveWith(page.folder, { 'burners.list': async () => ok([]) });
    const { host } = createClient(openTo(served));
    const bytes = new Uint8Array(messageLimitBytes + 1);
    const answer = await host['files.import']({ files: [{ name: 'large.zip', bytes }] });
    expect(answer.ok ? undefined : answer.fault).toMatchObject({
      code: 'message-too-large',
      facts: { megabytes: 65, most: 64 },
    });
    expect((await host['burners.list']({})).ok).toBe(true);
  });

  it('is disconnected after a message above the limit, or something that is no message', async () => {
    served = await serveWith(page.folder, {});
    for (const [bytes, code] of [
      [new Uint8Array(messageLimitBytes + 1), 1009],
      [Uint8Array.of(0xc1, 0xc1), 1003],
    ] as const) {
      const socket = await openRawSocket(served);
      socket.send(bytes);
      expect(await new Promise((resolve) => socket.once('close', resolve))).toBe(code);
    }
  });

  it('makes the host wait, without using memory, when it calls and does not read; and its feeds end when it leaves', async () => {
    let calls = 0;
    const gone = vi.fn();
    served = await serveWith(page.folder, {
      'report.make': async () => {
        calls += 1;
        return ok({ name: 'proof.pdf', bytes: new Uint8Array(4 * 1024 * 1024) });
      },
      'store.live': async function* (_input, signal) {
        yield { windows: 1 };
        await new Promise<void>((resolve) => signal.addEventListener('abort', () => resolve(), { once: true }));
        gone();
      },
    });
    const socket = await openRawSocket(served);
    socket.pause();
    socket.send(encode({ kind: 'ask', id: 0, name: 'store.live', input: {} }));
    const input = { capture: 'c1', format: 'pdf' };
    for (let id = 1; id <= 100; id += 1) {
      socket.send(encode({ kind: 'ask', id, name: 'report.make', input }));
      await wait(2);
    }
    await wait(100);
    // 400 MB were requested. The system's socket buffers, and what one read brought, come on top of 8 MB.
    expect(calls).toBeLessThan(15);
    socket.terminate();
    await vi.waitFor(() => expect(gone).toHaveBeenCalled(), { timeout: 10_000 });
    expect(served.bugs).toEqual([]);
  });

  it('has ended the feeds of every page once the workbench is closed, so that the store may be closed', async () => {
    let running = 0;
    served = await serveWith(page.folder, {
      'store.live': async function* (_input, signal) {
        signal.addEventListener('abort', () => (running -= 1), { once: true });
        running += 1;
        yield { windows: 1 };
        await new Promise<void>((resolve) => signal.addEventListener('abort', () => resolve(), { once: true }));
      },
    });
    for (let id = 0; id < 5; id += 1)
      (await openRawSocket(served)).send(encode({ kind: 'ask', id, name: 'store.live', input: {} }));
    await vi.waitFor(() => expect(running).toBe(5), { timeout: 10_000 });
    await served.workbench.close();
    served = undefined;
    expect(running).toBe(0);
  });
});
