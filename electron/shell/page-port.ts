import { ipcMain, type IpcMainEvent, type MessagePortMain } from 'electron';
import { api, type Api } from '../../shared/contract/api.ts';
import type { Channel } from '../../shared/contract/define.ts';
import { portOffer } from '../../shared/contract/meeting-point.ts';
import { createClosing } from '../../shared/contract/port-channel.ts';
import { type BugReport, type Handlers, serve } from '../../shared/contract/serve.ts';
import { isOurs } from './security.ts';

/**
 * The one thing the main process listens to: a page of ours hands over a port, and everything else is said on that.
 * The sender is checked here, once: the main frame of a window, showing a page of ours.
 */
export function acceptPorts(handlers: Handlers<Api>, onBug: BugReport): void {
  ipcMain.on(portOffer, (event: IpcMainEvent) => {
    const [port] = event.ports;
    const frame = event.senderFrame;
    if (!port || !frame || frame !== event.sender.mainFrame || !isOurs(frame.url)) {
      port?.close();
      return;
    }
    serve(api, handlers, electronChannel(port), onBug);
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
