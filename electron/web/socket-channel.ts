import type { WebSocket } from 'ws';
import { decode, encode } from '../../shared/contract/codec.ts';
import type { Channel } from '../../shared/contract/define.ts';
import { createCloseNotifier } from '../../shared/contract/port-channel.ts';

// While the page has not read this much, its further messages are not read either.
const highWaterBytes = 8 * 1024 * 1024;

/** A channel over a socket of the browser host, in MessagePack. The socket is closed when a message is not MessagePack. */
export function socketChannel(socket: WebSocket): Channel {
  const closing = createCloseNotifier();
  socket.on('close', closing.close);
  // ws closes by itself after an error (a message too large, a broken frame); the `close` event follows.
  socket.on('error', () => {});

  const resumeWhenRead = () => {
    if (socket.isPaused && socket.bufferedAmount < highWaterBytes) socket.resume();
  };
  return {
    post(message) {
      if (closing.closed()) return undefined;
      socket.send(encode(message), resumeWhenRead);
      // Of a page that sends and does not read, further messages stay in its own buffers, not in ours.
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
