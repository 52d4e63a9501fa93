import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { serve } from '../../shared/contract/serve.ts';
import { feedCredit } from '../../shared/contract/wire.ts';
import type { FromHost } from '../../shared/contract/wire.ts';
import { small, smallHandlers } from './small-contract.ts';

/** A channel without any delay, whose page is the test. */
function byHand() {
  const sent: FromHost[] = [];
  const { handlers, seen } = smallHandlers();
  let hear = (_message: unknown) => {};
  let close = () => {};
  serve(
    small,
    handlers,
    {
      post: (message) => void sent.push(message as FromHost),
      onMessage: (listener) => (hear = listener),
      onClose: (listener) => (close = listener),
      close: () => close(),
    },
    (_name, error) => {
      throw error;
    },
  );
  return { sent, seen, say: (message: unknown) => hear(message), hangUp: () => close() };
}

describe('serve', () => {
  it('lets a page that claims to have used what it was not given yet have no more than the window', async () => {
    const { sent, seen, say } = byHand();
    say({ kind: 'ask', id: 1, name: 'count.up', input: { to: 1000 } });
    for (let i = 0; i < 50; i += 1) say({ kind: 'more', id: 1 });
    await wait(20);
    // One was under way when the claims came.
    expect(seen.made).toBeLessThanOrEqual(feedCredit + 1);
    expect(sent.length).toBe(seen.made);
  });

  it('sends nothing for what was stopped', async () => {
    const { sent, seen, say } = byHand();
    say({ kind: 'ask', id: 1, name: 'work.forever', input: {} });
    say({ kind: 'stop', id: 1 });
    await wait(20);
    expect(seen.stopped).toEqual(['work.forever']);
    expect(sent).toEqual([]);
  });

  it('takes an id again once its call is done', async () => {
    const { sent, say } = byHand();
    for (let i = 0; i < 2; i += 1) {
      say({ kind: 'ask', id: 1, name: 'capture.get', input: { capture: 'c1' } });
      await wait(1);
    }
    expect(sent.map(({ kind }) => kind)).toEqual(['done', 'done']);
  });

  it('ends the handler of a feed that waits for its reader when the page is gone', async () => {
    const { seen, say, hangUp } = byHand();
    say({ kind: 'ask', id: 1, name: 'count.up', input: { to: 1000 } });
    await wait(20);
    expect(seen.stopped).toEqual([]);
    hangUp();
    await wait(20);
    expect(seen.stopped).toEqual(['count.up']);
    expect(seen.made).toBe(feedCredit);
  });

  it('ignores the end of something it does not know', () => {
    const { sent, say } = byHand();
    say({ kind: 'stop', id: 99 });
    say({ kind: 'more', id: 99 });
    expect(sent).toEqual([]);
  });
});
