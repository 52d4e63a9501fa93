import type { Channel } from '../../shared/contract/define.ts';
import { appOrigin, portOffer, portRequest, socketPath } from '../../shared/contract/endpoints.ts';
import { portChannel } from '../../shared/contract/port-channel.ts';
import { openSocket } from './socket-channel.ts';

// A preload answers at once; this only bounds the wait when there is none.
const answerWithinMs = 5000;

/** A new channel to the host of this page, be it Electron's or the web host; undefined when the host does not answer. */
export function openChannel(): Promise<Channel | undefined> {
  if (location.href.startsWith(`${appOrigin}/`)) return requestPort();
  hideKey();
  return openSocket(new WebSocket(`ws://${location.host}${socketPath}`));
}

/** The first address holds the access key; the browser holds it in a cookie now, so it is removed from the address bar. */
function hideKey(): void {
  if (location.search) history.replaceState(history.state, '', location.pathname + location.hash);
}

function requestPort(): Promise<Channel | undefined> {
  return new Promise((resolve) => {
    const finish = (channel: Channel | undefined) => {
      window.removeEventListener('message', onMessage);
      clearTimeout(timer);
      resolve(channel);
    };
    const onMessage = (event: MessageEvent) => {
      const [port] = event.ports;
      if (event.source === window && event.data === portOffer && port) finish(portChannel(port));
    };
    const timer = setTimeout(() => finish(undefined), answerWithinMs);
    window.addEventListener('message', onMessage);
    // '/': to our own origin only.
    window.postMessage(portRequest, '/');
  });
}
