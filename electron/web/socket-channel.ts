import type { WebSocket } from 'ws';
import { decode, encode } from '../../shared/contract/codec.ts';
import type { Channel } from '../../shared/contract/define.ts';
import { createClosing } from '../../shared/contract/port-channel.ts';

// While this much waits to be read by the page, no more is asked of the host on its behalf.
const highWaterBytes = 8 * 1024 * 1024;

/** A channel over a socket of the browser host, in MessagePack. Whoever sends what is not MessagePack is hung up on. */
export function socketChannel(socket: WebSocket): Channel {
  const closing = createClosing();
  socket.on('close', closing.close);
  // ws closes by itself after an error (a message too large, a broken frame); `close` tells the rest.
  socket.on('error', () => {});

  const resumeWhenRead = () => {
    if (socket.isPaused && socket.bufferedAmount < highWaterBytes) socket.resume();
  };
  return {
    post(message) {
      if (closing.closed()) return undefined;
      socket.send(encode(message), resumeWhenRead);
      // A page that asks and does not read: its next questions stay in its own buffers, not in ours.
      if (socket.bufferedAmount >= highWaterBytes) socket.pause();
      return undefined;
    },
    onMessage(listener) {
      socket.on('message', (data: Buffer) => {
        let message: unknown;
        try {
          message = decode(data);
        } catch {
          return socket.close(1003);
        }
        return listener(message);
      });
    },
    onClose: closing.listen,
    close: () => socket.close(),
  };
}
