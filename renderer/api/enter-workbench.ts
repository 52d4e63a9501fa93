import { HelloAnswer, keyName } from '../../shared/contract/admission.ts';
import type { Channel } from '../../shared/contract/define.ts';

/** Where the token of this browser is kept. Storage belongs to one origin with its port: no other program on this computer gets it. */
const tokenItem = 'pilot-bench-token';

// The host waits a second before it refuses. What says nothing for this long is no host of ours, or one that hangs.
const answerWithinMs = 10_000;

/**
 * Shows the host the one-time key of this page's address and the token of this browser.
 * @returns the channel, once the host has admitted this page; `refused` when neither counts; undefined when the host is gone
 *   or does not answer
 */
export async function enterWorkbench(channel: Channel, place: Place = browserPlace): Promise<Entered> {
  const key = place.key();
  const token = place.token();
  const answered = new Promise<unknown>((resolve) => {
    channel.onMessage(resolve);
    channel.onClose(() => resolve(undefined));
    setTimeout(() => resolve(undefined), answerWithinMs);
  });
  channel.post({ kind: 'hello', ...(key !== undefined && { key }), ...(token !== undefined && { token }) });
  const answer = HelloAnswer.safeParse(await answered).data;
  if (answer?.kind === 'welcome') {
    place.keepToken(answer.token);
    return channel;
  }
  channel.close();
  return answer?.kind;
}

export type Entered = Channel | 'refused' | undefined;

/** The address of a page and the storage of its origin. */
export interface Place {
  key(): string | undefined;
  token(): string | undefined;
  /** Keeps the token for a reload and for other windows of this browser; the key is used, and disappears from the address. */
  keepToken(token: string): void;
}

// Where the browser allows no storage, this page lives without: until it is reloaded.
let unstored: string | undefined;

const browserPlace: Place = {
  key: () => new URLSearchParams(location.hash.slice(1)).get(keyName) ?? undefined,
  token: () => {
    try {
      return localStorage.getItem(tokenItem) ?? undefined;
    } catch {
      return unstored;
    }
  },
  keepToken(token) {
    try {
      localStorage.setItem(tokenItem, token);
    } catch {
      unstored = token;
    }
    if (location.hash) history.replaceState(history.state, '', location.pathname);
  },
};
