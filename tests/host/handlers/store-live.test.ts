import { describe, expect, it } from 'vitest';
import { testFolder } from '../../helpers/test-folder.ts';
import { openTestHost } from '../test-host.ts';

describe('how many windows are open', () => {
  it('counts each that follows, and one that stops and begins again once, from its first word on', async () => {
    const { host } = await openTestHost(testFolder());
    const follow = () => {
      const stop = new AbortController();
      const words = host.handlers['store.live']({}, stop.signal)[Symbol.asyncIterator]();
      const next = async () => ((await words.next()).value as { windows: number }).windows;
      return { stop, next };
    };
    const first = follow();
    expect(await first.next()).toBe(1);
    const second = follow();
    expect(await second.next()).toBe(2);

    second.stop.abort();
    const again = follow();
    expect(await again.next()).toBe(2);

    first.stop.abort();
    again.stop.abort();
    expect(await follow().next()).toBe(1);
  });
});
