import { HelloAnswer, keyName } from '../../shared/contract/admission.ts';
import type { Channel } from '../../shared/contract/define.ts';

// Where token and proof are kept, with a dot between them: in the storage of this origin, which no page of another port gets.
const admissionItem = 'pilot-bench-admission';

// The host waits a second before it refuses. What says nothing for this long is no host of ours, or one that hangs.
const answerWithinMs = 10_000;

/**
 * Shows the host the one-time key of this page's address and the token of this browser.
 * @returns the channel, once the host has admitted this page; `refused` when neither counts; undefined when the host is gone
 *   or does not answer
 */
export async function enterWorkbench(channel: Channel, place: Place = browserPlace): Promise<Entered> {
  const key = place.key();
  const kept = place.kept();
  const answered = new Promise<unknown>((resolve) => {
    channel.onMessage(resolve);
    channel.onClose(() => resolve(undefined));
    setTimeout(() => resolve(undefined), answerWithinMs);
  });
  channel.post({ kind: 'hello', ...(key !== undefined && { key }), ...(kept && { token: kept.token }) });
  const answer = HelloAnswer.safeParse(await answered).data;
  // Only a new key may lead to a host that this page does not know yet.
  if (answer?.kind === 'welcome' && (key !== undefined || answer.proof === kept?.proof)) {
    place.keep({ token: answer.token, proof: answer.proof });
    return channel;
  }
  channel.close();
  return answer && 'refused';
}

export type Entered = Channel | 'refused' | undefined;

/** The address of a page and the storage of its origin. */
export interface Place {
  key(): string | undefined;
  kept(): Admission | undefined;
  /** Keeps what a reload and other windows of this browser need; the key is used, and disappears from the address. */
  keep(admission: Admission): void;
}

/** What the host gave when it admitted this browser. */
export type Admission = Omit<Extract<HelloAnswer, { kind: 'welcome' }>, 'kind'>;

// Where the browser allows no storage, this page lives without: until it is reloaded.
let unstored: string | null = null;

const browserPlace: Place = {
  key: () => new URLSearchParams(location.hash.slice(1)).get(keyName) ?? undefined,
  kept: () => {
    const [token, proof] = (readItem() ?? '').split('.');
    return token && proof ? { token, proof } : undefined;
  },
  keep({ token, proof }) {
    const text = `${token}.${proof}`;
    try {
      localStorage.setItem(admissionItem, text);
    } catch {
      unstored = text;
    }
    if (location.hash) history.replaceState(history.state, '', location.pathname);
  },
};

function readItem(): string | null {
  try {
    return localStorage.getItem(admissionItem) ?? unstored;
  } catch {
    return unstored;
  }
}
