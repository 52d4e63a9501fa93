import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { connect } from '../../shared/contract/connect.ts';
import type { Client } from '../../shared/contract/connect.ts';
import { serve } from '../../shared/contract/serve.ts';
import { feedCredit, runningLimit } from '../../shared/contract/wire.ts';
import type { Fault } from '../../shared/model/faults.ts';
import { small, smallHandlers } from './small-contract.ts';
import type { Seen, Small } from './small-contract.ts';
import { transports } from './transports.ts';
import type { Pair } from './transports.ts';

describe.each(transports)('over $name', ({ open }) => {
  let pair: Pair;
  let page: Client<Small>;
  let seen: Seen;
  let bugs: { name: string; error: unknown }[];

  beforeEach(async () => {
    pair = await open();
    const host = smallHandlers();
    seen = host.seen;
    bugs = [];
    serve(small, host.handlers, pair.host, (name, error) => bugs.push({ name, error }));
    page = connect(small, pair.page);
  });
  afterEach(() => pair.end());

  const faultOf = (outcome: { ok: boolean; fault?: Fault }) => (outcome.ok ? undefined : outcome.fault);
  /** The end of a feed, with what came before it. */
  const follow = <T>(begin: (onItem: (item: T) => void, onEnd: (fault: Fault | undefined) => void) => unknown) =>
    new Promise<{ items: T[]; fault: Fault | undefined }>((resolve) => {
      const items: T[] = [];
      begin(
        (item) => items.push(item),
        (fault) => resolve({ items, fault }),
      );
    });

  it('carries NaN, infinities, signed zero and typed arrays to the other side and back', async () => {
    const floats = Float64Array.of(1.5, Number.NaN, -0, Number.POSITIVE_INFINITY, 0.1 + 0.2);
    // A view that does not begin at a multiple of eight: what comes back must be aligned all the same.
    const bytes = new Uint8Array(Uint8Array.of(9, 1, 2, 255).buffer, 1);
    const answer = await page['echo.all']({ floats, bytes, number: Number.NaN });
    if (!answer.ok) throw new Error(answer.fault.message);
    expect(answer.value.floats).toBeInstanceOf(Float64Array);
    expect([...answer.value.floats].every((value, index) => Object.is(value, floats[index]))).toBe(true);
    expect(answer.value.floats.length).toBe(5);
    expect(answer.value.floats.byteOffset % 8).toBe(0);
    expect(Object.getPrototypeOf(answer.value.bytes)).toBe(Uint8Array.prototype);
    expect([...answer.value.bytes]).toEqual([1, 2, 255]);
    expect(answer.value.number).toBeNaN();
    expect(answer.value.word).toBe('none');
  });

  it('carries empty typed arrays', async () => {
    const answer = await page['echo.all']({ floats: new Float64Array(0), bytes: new Uint8Array(0), number: 1 });
    expect(answer.ok && [answer.value.floats.length, answer.value.bytes.length]).toEqual([0, 0]);
  });

  it('gives an expected fault with its code, sentence and facts', async () => {
    expect(await page['capture.get']({ capture: 'c9' })).toEqual({
      ok: false,
      fault: {
        code: 'capture-missing',
        message: 'There is no capture c9 in the store.',
        facts: { capture: 'c9' },
      },
    });
  });

  it('refuses an input that the contract does not allow, and reports where it is wrong', async () => {
    const answer = await page['capture.get']({ capture: 7 } as unknown as { capture: string });
    expect(faultOf(answer)?.code).toBe('input-invalid');
    expect(faultOf(answer)?.message).toContain('capture: ');
  });

  it('refuses to begin a feed whose input the contract does not allow', async () => {
    const { fault } = await follow((onItem, onEnd) => page['count.up']({ to: 1.5 }, onItem, onEnd));
    expect(fault?.code).toBe('input-invalid');
  });

  it('serves only the names of the contract', async () => {
    const other = connect({ ...small, toString: small['capture.get'], 'more.live': small['quiet.live'] }, pair.page);
    expect(faultOf(await other['toString']({ capture: 'c1' }))?.code).toBe('call-unknown');
    const { fault } = await follow((onItem, onEnd) => other['more.live']({}, onItem, onEnd));
    expect(fault?.code).toBe('call-unknown');
  });

  it('reports a bug in a handler to the host and no detail of it to the page', async () => {
    const answer = await page['bug.throws']({});
    expect(faultOf(answer)?.code).toBe('internal');
    expect(JSON.stringify(answer)).not.toContain('secret');
    expect(bugs).toEqual([{ name: 'bug.throws', error: new TypeError('secret detail of the host') }]);
  });

  it('does not pass on an answer that breaks the contract', async () => {
    expect(faultOf(await page['bug.answers']({}))?.code).toBe('internal');
    expect(bugs.map(({ name }) => name)).toEqual(['bug.answers']);
  });

  it('ends a feed whose handler has a bug, after the items before', async () => {
    const { items, fault } = await follow<number>((onItem, onEnd) => page['count.bug']({}, onItem, onEnd));
    expect(items).toEqual([1]);
    expect(fault?.code).toBe('internal');
    expect(fault?.message).not.toContain('secret');
    expect(bugs.length).toBe(1);
  });

  it('does not pass on an item that breaks the contract, and ends the feed and its handler', async () => {
    const { items, fault } = await follow<number>((onItem, onEnd) => page['bug.items']({}, onItem, onEnd));
    expect(items).toEqual([1]);
    expect(fault?.code).toBe('internal');
    expect(bugs.map(({ name }) => name)).toEqual(['bug.items']);
    expect(seen.stopped).toEqual(['bug.items']);
  });

  it('delivers every item of a feed, in order, and then its end', async () => {
    const { items, fault } = await follow<{ n: number; column: Float64Array }>((onItem, onEnd) =>
      page['count.up']({ to: 500 }, onItem, onEnd),
    );
    expect(fault).toBeUndefined();
    expect(items.map(({ n }) => n)).toEqual(Array.from({ length: 500 }, (_, index) => index + 1));
    expect(items[3]?.column).toEqual(Float64Array.of(4, Number.NaN));
  });

  it('ends a feed with the fault that its handler returned', async () => {
    const { items, fault } = await follow<number>((onItem, onEnd) =>
      page['count.none']({ capture: 'c9' }, onItem, onEnd),
    );
    expect(items).toEqual([1]);
    expect(fault?.code).toBe('capture-missing');
  });

  it('does not advance a feed whose client has not used its items, and drops none when it continues', async () => {
    let release = () => {};
    const busy = new Promise<void>((resolve) => (release = resolve));
    const numbers: number[] = [];
    const ended = new Promise<void>((resolve) => {
      const onItem = async ({ n }: { n: number }) => {
        numbers.push(n);
        if (n === 1) await busy;
      };
      page['count.up']({ to: 100 }, onItem, () => resolve());
    });
    await vi.waitFor(() => expect(seen.made).toBe(feedCredit));
    await wait(50);
    expect(seen.made).toBe(feedCredit);
    expect(numbers).toEqual([1]);
    release();
    await ended;
    expect(numbers).toEqual(Array.from({ length: 100 }, (_, index) => index + 1));
  });

  it('delivers nothing more after a feed was stopped, and ends its handler', async () => {
    const numbers: number[] = [];
    const ends: unknown[] = [];
    const stop = page['count.up'](
      { to: 1_000_000 },
      ({ n }) => {
        numbers.push(n);
        if (n === 10) stop();
      },
      (fault) => ends.push(fault),
    );
    await vi.waitFor(() => expect(seen.stopped).toEqual(['count.up']));
    await wait(20);
    stop();
    expect(numbers.at(-1)).toBe(10);
    expect(ends).toEqual([]);
  });

  it('stops a feed that is waiting for something to happen', async () => {
    const first = Promise.withResolvers<void>();
    const stop = page['quiet.live']({}, () => first.resolve());
    await first.promise;
    stop();
    await vi.waitFor(() => expect(seen.stopped).toEqual(['quiet.live']));
  });

  it('stops a call when its signal fires, and gives its outcome at once', async () => {
    const abort = new AbortController();
    const answer = page['work.forever']({}, abort.signal);
    // An answer to a later call shows that the first has begun.
    await page['capture.get']({ capture: 'c1' });
    abort.abort();
    expect(faultOf(await answer)?.code).toBe('cancelled');
    await vi.waitFor(() => expect(seen.stopped).toEqual(['work.forever']));
    expect(faultOf(await page['work.forever']({}, abort.signal))?.code).toBe('cancelled');
    expect(bugs).toEqual([]);
  });

  it('stops everything that runs when the channel closes, on both sides', async () => {
    const answer = page['work.forever']({});
    const first = Promise.withResolvers<void>();
    const ended = new Promise<Fault | undefined>((resolve) => {
      page['quiet.live']({}, () => first.resolve(), resolve);
    });
    await first.promise;
    pair.page.close();
    expect(faultOf(await answer)?.code).toBe('host-gone');
    expect((await ended)?.code).toBe('host-gone');
    await vi.waitFor(() => expect(seen.stopped.toSorted()).toEqual(['quiet.live', 'work.forever']));
    expect(faultOf(await page['capture.get']({ capture: 'c1' }))?.code).toBe('host-gone');
    const late = await follow((onItem, onEnd) => page['quiet.live']({}, onItem, onEnd));
    expect(late.fault?.code).toBe('host-gone');
  });

  it('tells the page when the host closes the channel', async () => {
    const answer = page['work.forever']({});
    await page['capture.get']({ capture: 'c1' });
    pair.host.close();
    expect(faultOf(await answer)?.code).toBe('host-gone');
  });

  it('refuses more calls at once than the limit, and accepts them again when some are done', async () => {
    const stops = Array.from({ length: runningLimit }, () => page['quiet.live']({}, () => {}));
    expect(faultOf(await page['capture.get']({ capture: 'c1' }))?.code).toBe('too-many-calls');
    for (const stop of stops) stop();
    await vi.waitFor(() => expect(seen.stopped.length).toBe(runningLimit));
    expect(faultOf(await page['capture.get']({ capture: 'c1' }))?.code).toBe('capture-missing');
  });

  it.each([
    ['something that is no message', 'hello'],
    ['a message of an unknown kind', { kind: 'run', id: 1, name: 'capture.get' }],
    ['an id that is not a whole number', { kind: 'ask', id: 'x', name: 'capture.get', input: {} }],
  ])('closes the channel of a peer that sends %s', async (_what, message) => {
    const answer = page['work.forever']({});
    pair.page.post(message);
    expect(faultOf(await answer)?.code).toBe('host-gone');
  });

  it('closes the channel of a peer that uses an id twice', async () => {
    const closed = new Promise<void>((resolve) => pair.page.onClose(resolve));
    pair.page.post({ kind: 'ask', id: 7, name: 'work.forever', input: {} });
    pair.page.post({ kind: 'ask', id: 7, name: 'work.forever', input: {} });
    await closed;
  });
});
