import type { Channel } from './define.ts';

/** What a MessagePort of a page and one of Node have in common. */
export interface PortLike {
  postMessage(message: unknown): void;
  addEventListener(type: 'message', listener: (event: { data: unknown }) => void): void;
  addEventListener(type: 'close', listener: () => void): void;
  start(): void;
  close(): void;
}

/** A channel over a MessagePort. Messages are cloned as they are: NaN and typed arrays stay; nothing is transferred. */
export function portChannel(port: PortLike): Channel {
  const closing = createClosing();
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
      // A port tells only its other end that it was closed.
      closing.close();
    },
  };
}

/** Remembers that something was closed and tells each listener once, late ones at once. */
export function createClosing() {
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
