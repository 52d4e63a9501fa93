import type { Channel } from '../../shared/contract/define.ts';
import { appOrigin, portOffer, portRequest, socketPath } from '../../shared/contract/endpoints.ts';
import { portChannel } from '../../shared/contract/port-channel.ts';
import { enterWorkbench, type Entered } from './enter-workbench.ts';
import { openSocket } from './socket-channel.ts';

// A preload answers at once; this only bounds the wait when there is none.
const answerWithinMs = 5000;

/**
 * A new channel to the host of this page, be it Electron's or the browser host; undefined when the host does not answer, `refused` when
 * it does not admit this page.
 */
export async function openChannel(): Promise<Entered> {
  if (location.href.startsWith(`${appOrigin}/`)) return requestPort();
  const channel = await openSocket(new WebSocket(`ws://${location.host}${socketPath}`));
  return channel && enterWorkbench(channel);
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
