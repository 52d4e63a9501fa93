import { Socket } from 'node:net';
import { setTimeout } from 'node:timers';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { readNetworkAddress } from '../../../../shared/model/network-port.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import type { OpenPort } from './port.ts';

/** The waits of a connection, milliseconds. Tests shorten them. */
export interface TcpTiming {
  connectMs: number;
  /** A connection that says nothing is probed by the system after so long, and then every second, ten times (Node's documentation). */
  keepAliveMs: number;
}

// A serial server on the same network answers within milliseconds; one that has not after 5 s is not there.
const usual: TcpTiming = { connectMs: 5000, keepAliveMs: 5000 };

/**
 * Opens a serial server on the network, `tcp://host:port`: what it sends is the meter's bytes as they are (raw TCP). Speed and frame
 * are set on the server, so `serial` is not used.
 */
export const openTcpPort: OpenPort = (request) => openTcp(request, usual);

/** The same with other waits. */
export async function openTcp(
  { path, onBytes, onLost, signal }: Parameters<OpenPort>[0],
  timing: TcpTiming,
): ReturnType<OpenPort> {
  const address = readNetworkAddress(path);
  if (!address.ok) return address;
  const socket = new Socket();
  // Half a line is not held back for more: a poll goes out at once.
  socket.setNoDelay(true);
  let over = false;
  let broke: NodeJS.ErrnoException | undefined;
  const lost = (why: Fault) => {
    if (over) return;
    over = true;
    onLost(why);
  };
  socket.on('error', (error: NodeJS.ErrnoException) => (broke = error));
  // From the first byte on, which may come together with the connection.
  socket.on('data', (bytes: Buffer) => {
    if (!over) onBytes(bytes);
  });

  const refused = await new Promise<Fault | undefined>((resolve) => {
    const end = (why: Fault | undefined) => {
      clearTimeout(timer);
      signal?.removeEventListener('abort', stop);
      socket.removeAllListeners('close');
      resolve(why);
    };
    const giveUp = (why: Fault) => {
      end(why);
      socket.destroy();
    };
    const stop = () => giveUp(fault('cancelled'));
    const timer = setTimeout(
      () => giveUp(fault('network-timeout', { port: path, seconds: Math.round(timing.connectMs / 1000) })),
      timing.connectMs,
    );
    signal?.addEventListener('abort', stop, { once: true });
    socket.once('close', () => end(connectFault(path, broke, timing)));
    socket.connect(address.value, () => end(undefined));
    if (signal?.aborted) stop();
  });
  if (refused) return fail(refused);
  // A server whose power was cut says nothing of it: without being asked, the connection would look open for ever.
  socket.setKeepAlive(true, timing.keepAliveMs);
  const lostFault = () =>
    broke ? fault('network-lost', { port: path, reason: reasonOf(broke) }) : fault('network-closed', { port: path });
  if (socket.closed || socket.readableEnded) {
    socket.destroy();
    return fail(lostFault());
  }
  // All that was sent before is read by then. Nothing more can come, so the other direction is closed too.
  socket.once('end', () => {
    lost(lostFault());
    socket.destroy();
  });
  socket.once('close', () => lost(lostFault()));

  return ok({
    beginsWhole: false,
    write(text) {
      if (!over && socket.writable && socket.writableLength === 0) socket.write(text);
    },
    async close() {
      over = true;
      if (socket.closed) return;
      await new Promise<void>((resolve) => {
        socket.once('close', () => resolve());
        socket.destroy();
      });
    },
  });
}

/** Node's codes for what the system says (errno names of POSIX, and those of its resolver). */
function connectFault(port: string, error: NodeJS.ErrnoException | undefined, { connectMs }: TcpTiming): Fault {
  switch (error?.code) {
    case 'ECONNREFUSED':
      return fault('network-refused', { port });
    case 'ENETUNREACH':
    case 'EHOSTUNREACH':
    case 'EHOSTDOWN':
    case 'ENETDOWN':
    case 'EADDRNOTAVAIL':
      return fault('network-unreachable', { port });
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
      return fault('network-name-unknown', { port });
    case 'ETIMEDOUT':
      return fault('network-timeout', { port, seconds: Math.round(connectMs / 1000) });
    default:
      return fault('network-failed', { port, reason: error ? reasonOf(error) : 'it closed the connection at once' });
  }
}

function reasonOf({ code = 'no reason is told', message }: NodeJS.ErrnoException): string {
  if (code === 'ECONNRESET' || code === 'EPIPE') return 'reset by the other side';
  if (code === 'ETIMEDOUT') return 'no answer any more';
  // A name of several addresses that all failed is told without a message.
  return message.replace(/\.$/u, '') || code;
}
