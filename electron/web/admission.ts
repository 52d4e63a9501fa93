import type { Server } from 'node:http';
import type { Duplex } from 'node:stream';
import type { WebSocket } from 'ws';
import { Hello, helloLimitBytes } from '../../shared/contract/admission.ts';
import type { HelloAnswer } from '../../shared/contract/admission.ts';
import { decode, encode } from '../../shared/contract/codec.ts';
import type { Access } from './access.ts';

// Our page says hello at once.
const helloWithinMs = 5000;

// One attempt a connection, and each that fails holds its connection for this long.
const refuseAfterMs = 1000;

// A browser opens six connections for a page. Others than the technician may take all of them, and then only the oldest is lost.
const waitingLimit = 64;

/**
 * Waits for the first message on a new socket and calls `onAdmitted` when it shows a key or token that counts. Else the socket is told
 * that it is refused, and closed: after one wrong message, too many bytes, or five seconds.
 *
 * @param stream  the connection below the socket, to count what arrives before it is admitted
 */
export function admit(socket: WebSocket, stream: Duplex, access: Access, onAdmitted: () => void): void {
  let received = 0;
  const count = (bytes: Buffer) => {
    received += bytes.length;
    if (received > helloLimitBytes) socket.terminate();
  };
  stream.on('data', count);
  // ws closes by itself after an error (a broken frame).
  socket.on('error', () => {});
  let timer = setTimeout(() => socket.terminate(), helloWithinMs);
  socket.once('close', () => clearTimeout(timer));
  socket.once('message', (bytes: Buffer) => {
    clearTimeout(timer);
    const hello = readHello(bytes);
    const token = hello && access.admit(hello);
    if (token === undefined) {
      timer = setTimeout(() => {
        socket.send(encode({ kind: 'refused' } satisfies HelloAnswer));
        socket.close();
      }, refuseAfterMs);
      return;
    }
    stream.off('data', count);
    onAdmitted();
    socket.send(encode({ kind: 'welcome', token, proof: access.proof } satisfies HelloAnswer));
  });
}

function readHello(bytes: Buffer): Hello | undefined {
  try {
    return Hello.safeParse(decode(bytes)).data;
  } catch {
    return undefined;
  }
}

/**
 * Bounds the connections of those who have shown no key: of more than `waitingLimit`, the oldest is ended. Whoever floods the port can
 * so neither use up the connections of this process, which the recording needs as well, nor lock the technician out.
 * @returns to be called with the connection of a page that was admitted
 */
export function boundWaiting(server: Server): (admitted: Duplex) => void {
  const waiting = new Set<Duplex>();
  server.on('connection', (stream: Duplex) => {
    waiting.add(stream);
    stream.once('close', () => waiting.delete(stream));
    const [oldest] = waiting;
    if (waiting.size > waitingLimit) oldest?.destroy();
  });
  return (admitted) => void waiting.delete(admitted);
}
