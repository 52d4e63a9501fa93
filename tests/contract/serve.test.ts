import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { serve } from '../../shared/contract/serve.ts';
import { feedCredit } from '../../shared/contract/wire.ts';
import type { FromHost } from '../../shared/contract/wire.ts';
import { small, smallHandlers } from './small-contract.ts';

/** A channel without any delay; the test is the page. */
function serveSmall() {
  const sent: FromHost[] = [];
  const { handlers, seen } = smallHandlers();
  let receive = (_message: unknown) => {};
  let close = () => {};
  serve(
    small,
    handlers,
    {
      post: (message) => void sent.push(message as FromHost),
      onMessage: (listener) => (receive = listener),
      onClose: (listener) => (close = listener),
      close: () => close(),
    },
    (_name, error) => {
      throw error;
    },
  );
  return { sent, seen, post: (message: unknown) => receive(message), disconnect: () => close() };
}

describe('serve', () => {
  it('sends no more than the credit to a page that claims to have used items it has not received', async () => {
    const { sent, seen, post } = serveSmall();
    post({ kind: 'ask', id: 1, name: 'count.up', input: { to: 1000 } });
    for (let i = 0; i < 50; i += 1) post({ kind: 'more', id: 1 });
    await wait(20);
    // One was being made when the claims came.
    expect(seen.made).toBeLessThanOrEqual(feedCredit + 1);
    expect(sent.length).toBe(seen.made);
  });

  it('sends nothing for a call that was stopped', async () => {
    const { sent, seen, post } = serveSmall();
    post({ kind: 'ask', id: 1, name: 'work.forever', input: {} });
    post({ kind: 'stop', id: 1 });
    await wait(20);
    expect(seen.stopped).toEqual(['work.forever']);
    expect(sent).toEqual([]);
  });

  it('accepts an id again once its call is done', async () => {
    const { sent, post } = serveSmall();
    for (let i = 0; i < 2; i += 1) {
      post({ kind: 'ask', id: 1, name: 'capture.get', input: { capture: 'c1' } });
      await wait(1);
    }
    expect(sent.map(({ kind }) => kind)).toEqual(['done', 'done']);
  });

  it('ends the handler of a feed that waits for its page when the page is gone', async () => {
    const { seen, post, disconnect } = serveSmall();
    post({ kind: 'ask', id: 1, name: 'count.up', input: { to: 1000 } });
    await wait(20);
    expect(seen.stopped).toEqual([]);
    disconnect();
    await wait(20);
    expect(seen.stopped).toEqual(['count.up']);
    expect(seen.made).toBe(feedCredit);
  });

  it('ignores messages for an unknown id', () => {
    const { sent, post } = serveSmall();
    post({ kind: 'stop', id: 99 });
    post({ kind: 'more', id: 99 });
    expect(sent).toEqual([]);
  });
});
