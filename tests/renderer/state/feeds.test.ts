import { beforeEach, describe, expect, it, vi } from 'vitest';

const { host, stop } = vi.hoisted(() => {
  const ended = vi.fn<() => void>();
  const feed = vi.fn<(input: unknown, onItem: (item: unknown) => void, onEnd: (fault: unknown) => void) => () => void>(
    () => ended,
  );
  return { host: { 'store.live': feed }, stop: ended };
});
vi.mock('../../../renderer/state/connection.ts', () => ({ host, onReconnect: () => () => {} }));

const { keyOf, listen, newestItem } = await import('../../../renderer/state/feeds.ts');
type Name = Parameters<typeof listen>[1];
const name = 'store.live' as Name;
const nextTask = () => new Promise((resolve) => setTimeout(resolve));
let visit = 0;

describe('a feed that two components show one after the other', () => {
  let key = '';
  beforeEach(() => {
    key = keyOf(name, { visit: (visit += 1) } as never);
    host['store.live'].mockClear();
    stop.mockClear();
  });

  it('goes on with its last item where the second comes as the first goes', async () => {
    const leave = listen(key, name, () => {});
    host['store.live'].mock.lastCall![1]('disk full');
    leave();
    const leaveAgain = listen(key, name, () => {});
    expect(newestItem(key)).toBe('disk full');
    await nextTask();
    expect([host['store.live'].mock.calls.length, stop.mock.calls.length]).toEqual([1, 0]);
    leaveAgain();
    await nextTask();
    expect(stop).toHaveBeenCalledTimes(1);
    expect(newestItem(key)).toBeUndefined();
  });

  it('is asked for anew where the host has ended it', async () => {
    const leave = listen(key, name, () => {});
    host['store.live'].mock.lastCall![2]({ code: 'not-found', message: 'There is no such capture.' });
    leave();
    const leaveAgain = listen(key, name, () => {});
    await nextTask();
    expect(host['store.live']).toHaveBeenCalledTimes(2);
    leaveAgain();
    await nextTask();
  });
});
