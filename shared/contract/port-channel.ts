import type { Channel } from './define.ts';

/** The common part of a page's MessagePort and Node's. */
export interface PortLike {
  postMessage(message: unknown): void;
  addEventListener(type: 'message', listener: (event: { data: unknown }) => void): void;
  addEventListener(type: 'close', listener: () => void): void;
  start(): void;
  close(): void;
}

/** A channel over a MessagePort. Messages are cloned: NaN and typed arrays are kept; nothing is transferred. */
export function portChannel(port: PortLike): Channel {
  const closing = createCloseNotifier();
  port.addEventListener('close', closing.close);
  return {
    post(message) {
      if (!closing.closed()) port.postMessage(message);
      return undefined;
    },
    onMessage(listener) {
      port.addEventListener('message', ({ data }) => listener(data));
      port.start();
    },
    onClose: closing.listen,
    close() {
      port.close();
      // A port notifies only its other end that it was closed.
      closing.close();
    },
  };
}

/** Notifies each listener once that something was closed; at once when that was before it began to listen. */
export function createCloseNotifier() {
  let isClosed = false;
  const listeners: (() => void)[] = [];
  return {
    closed: (): boolean => isClosed,
    close: (): void => {
      if (isClosed) return;
      isClosed = true;
      for (const listener of listeners) listener();
    },
    listen: (listener: () => void): void => {
      if (isClosed) listener();
      else listeners.push(listener);
    },
  };
}
