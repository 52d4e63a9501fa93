import { decode, encode, messageLimitBytes } from '../../shared/contract/codec.ts';
import type { Channel } from '../../shared/contract/define.ts';
import { createCloseNotifier } from '../../shared/contract/port-channel.ts';
import { fault } from '../../shared/model/faults.ts';

const megabyte = 1024 * 1024;

/** Opens a socket to the host. Gives undefined when the host does not answer or does not let this page in. */
export function openSocket(socket: WebSocket): Promise<Channel | undefined> {
  socket.binaryType = 'arraybuffer';
  return new Promise((resolve) => {
    const closing = createCloseNotifier();
    socket.addEventListener('close', () => {
      closing.close();
      resolve(undefined);
    });
    socket.addEventListener('open', () => {
      resolve({
        post(message) {
          const bytes = encode(message);
          // The host would close the connection; refused here, the caller gets a fault and the connection stays.
          if (bytes.length > messageLimitBytes)
            return fault('message-too-large', {
              megabytes: Math.ceil(bytes.length / megabyte),
              most: messageLimitBytes / megabyte,
            });
          if (!closing.closed()) socket.send(bytes);
          return undefined;
        },
        onMessage(listener) {
          socket.addEventListener('message', ({ data }) => listener(decode(new Uint8Array(data as ArrayBuffer))));
        },
        onClose: closing.listen,
        close: () => socket.close(),
      });
    });
  });
}
