import { ipcMain, type IpcMainEvent, type MessagePortMain, type WebContents } from 'electron';
import { api, type Api } from '../../shared/contract/api.ts';
import type { Channel } from '../../shared/contract/define.ts';
import { portOffer } from '../../shared/contract/endpoints.ts';
import { createClosing } from '../../shared/contract/port-channel.ts';
import { type BugReport, type Handlers, serve } from '../../shared/contract/serve.ts';
import { isOurs } from './security.ts';

/**
 * The one thing the main process listens to: a page of ours hands over a port, and everything else is said on that.
 * The sender is checked here, once: the main frame of a window, showing a page of ours. A page that was loaded again
 * brings a new port; the one before it is closed then, so that no window has more than one.
 */
export function acceptPorts(handlers: Handlers<Api>, onBug: BugReport): void {
  const present = new WeakMap<WebContents, Channel>();
  ipcMain.on(portOffer, (event: IpcMainEvent) => {
    const [port, ...more] = event.ports;
    const frame = event.senderFrame;
    if (!port || more.length > 0 || !frame || frame !== event.sender.mainFrame || !isOurs(frame.url)) {
      for (const refused of event.ports) refused.close();
      return;
    }
    present.get(event.sender)?.close();
    const channel = electronChannel(port);
    present.set(event.sender, channel);
    serve(api, handlers, channel, onBug);
  });
}

/** Electron's own port speaks the language of event emitters. Messages are cloned, never transferred. */
function electronChannel(port: MessagePortMain): Channel {
  const closing = createClosing();
  port.on('close', closing.close);
  return {
    post(message) {
      if (!closing.closed()) port.postMessage(message);
      return undefined;
    },
    onMessage(listener) {
      port.on('message', ({ data }: { data: unknown }) => listener(data));
      port.start();
    },
    onClose: closing.listen,
    close() {
      port.close();
      closing.close();
    },
  };
}
