import type { Channel } from '../../shared/contract/define.ts';
import { appOrigin, portOffer, portRequest, socketPath } from '../../shared/contract/endpoints.ts';
import { portChannel } from '../../shared/contract/port-channel.ts';
import { openSocket } from './socket-channel.ts';

// A preload answers at once; this long only when there is none.
const answerWithinMs = 5000;

/** A new channel to the host of this page, whichever it is; undefined when the host does not answer. */
export function openChannel(): Promise<Channel | undefined> {
  if (location.href.startsWith(`${appOrigin}/`)) return askForPort();
  hideKey();
  return openSocket(new WebSocket(`ws://${location.host}${socketPath}`));
}

/** The first address holds the access key; the browser has the cookie for it now, so the key need not stay in view. */
function hideKey(): void {
  if (location.search) history.replaceState(history.state, '', location.pathname + location.hash);
}

function askForPort(): Promise<Channel | undefined> {
  return new Promise((resolve) => {
    const finish = (channel: Channel | undefined) => {
      window.removeEventListener('message', hear);
      clearTimeout(timer);
      resolve(channel);
    };
    const hear = (event: MessageEvent) => {
      const [port] = event.ports;
      if (event.source === window && event.data === portOffer && port) finish(portChannel(port));
    };
    const timer = setTimeout(() => finish(undefined), answerWithinMs);
    window.addEventListener('message', hear);
    // '/': to our own origin and no other.
    window.postMessage(portRequest, '/');
  });
}
