import { ipcMain, type IpcMainEvent, type MessagePortMain, type WebContents } from 'electron';
import { api, type Api } from '../../shared/contract/api.ts';
import type { Channel } from '../../shared/contract/define.ts';
import { portOffer } from '../../shared/contract/endpoints.ts';
import { createCloseNotifier } from '../../shared/contract/port-channel.ts';
import { type BugReport, type Handlers, serve } from '../../shared/contract/serve.ts';
import { isOwnPage } from './security.ts';

/**
 * The only message that the main process accepts: our page hands over a port, and everything else goes through that.
 * The sender is checked here, once: the main frame of a desktop window, showing our page. A page that was loaded again
 * brings a new port; the one before it is closed then, so that no desktop window has more than one.
 */
export function acceptPorts(handlers: Handlers<Api>, onBug: BugReport): void {
  const channels = new WeakMap<WebContents, Channel>();
  ipcMain.on(portOffer, (event: IpcMainEvent) => {
    const [port, ...more] = event.ports;
    const frame = event.senderFrame;
    if (!port || more.length > 0 || !frame || frame !== event.sender.mainFrame || !isOwnPage(frame.url)) {
      for (const refused of event.ports) refused.close();
      return;
    }
    channels.get(event.sender)?.close();
    const channel = electronChannel(port);
    channels.set(event.sender, channel);
    serve(api, handlers, channel, onBug);
  });
}

/** Electron's own port is an event emitter. Messages are cloned, never transferred. */
function electronChannel(port: MessagePortMain): Channel {
  const closing = createCloseNotifier();
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
