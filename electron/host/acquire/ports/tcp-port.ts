import { Socket } from 'node:net';
import { setTimeout } from 'node:timers';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { readNetworkAddress } from '../../../../shared/model/ports/network-port.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import type { OpenPort } from './port.ts';

/** The timeouts of a connection, milliseconds. Tests shorten them. */
export interface TcpTiming {
  connectMs: number;
  /** A silent connection is probed by the system after this time, and then every second, ten times (Node's documentation). */
  keepAliveMs: number;
}

// A serial server on the same network answers within milliseconds; one that has not after 5 s is not there.
const defaultTiming: TcpTiming = { connectMs: 5000, keepAliveMs: 5000 };

/**
 * Opens a serial server on the network, `tcp://host:port`, which sends the meter's bytes as they are (raw TCP). Speed and frame
 * are set on the server, so `serial` is not used. Fails with one of the `network-` faults, or `cancelled`.
 */
export const openTcpPort: OpenPort = (request) => openTcp(request, defaultTiming);

/** As `openTcpPort`, with other timeouts. */
export async function openTcp(
  { path, onBytes, onLost, signal }: Parameters<OpenPort>[0],
  timing: TcpTiming,
): ReturnType<OpenPort> {
  const address = readNetworkAddress(path);
  if (!address.ok) return address;
  const socket = new Socket();
  // Without Nagle's algorithm, so that a poll goes out at once.
  socket.setNoDelay(true);
  let isOver = false;
  let socketError: NodeJS.ErrnoException | undefined;
  const reportLost = (cause: Fault) => {
    if (isOver) return;
    isOver = true;
    onLost(cause);
  };
  socket.on('error', (error: NodeJS.ErrnoException) => (socketError = error));
  // From the first byte on, which may come together with the connection.
  socket.on('data', (bytes: Buffer) => {
    if (!isOver) onBytes(bytes);
  });

  const refusal = await new Promise<Fault | undefined>((resolve) => {
    const settle = (cause: Fault | undefined) => {
      clearTimeout(timer);
      signal?.removeEventListener('abort', cancel);
      socket.removeAllListeners('close');
      resolve(cause);
    };
    const giveUp = (cause: Fault) => {
      settle(cause);
      socket.destroy();
    };
    const cancel = () => giveUp(fault('cancelled'));
    const timer = setTimeout(
      () => giveUp(fault('network-timeout', { port: path, seconds: Math.round(timing.connectMs / 1000) })),
      timing.connectMs,
    );
    signal?.addEventListener('abort', cancel, { once: true });
    socket.once('close', () => settle(connectFault(path, socketError, timing)));
    socket.connect(address.value, () => settle(undefined));
    if (signal?.aborted) cancel();
  });
  if (refusal) return fail(refusal);
  // A server whose power was cut sends no notice of it: without probes the connection would look open for ever.
  socket.setKeepAlive(true, timing.keepAliveMs);
  const lostFault = () =>
    socketError
      ? fault('network-lost', { port: path, reason: reasonOf(socketError) })
      : fault('network-closed', { port: path });
  if (socket.closed || socket.readableEnded) {
    socket.destroy();
    return fail(lostFault());
  }
  // All that was sent before has been read by then. Nothing more can come, so the other direction is closed too.
  socket.once('end', () => {
    reportLost(lostFault());
    socket.destroy();
  });
  socket.once('close', () => reportLost(lostFault()));

  return ok({
    startsOnNewLine: false,
    write(text) {
      if (!isOver && socket.writable && socket.writableLength === 0) socket.write(text);
    },
    async close() {
      isOver = true;
      if (socket.closed) return;
      await new Promise<void>((resolve) => {
        socket.once('close', () => resolve());
        socket.destroy();
      });
    },
  });
}

/** Node's codes for system errors (errno names of POSIX, and those of its resolver). */
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

function reasonOf({ code = 'no reason was given', message }: NodeJS.ErrnoException): string {
  if (code === 'ECONNRESET' || code === 'EPIPE') return 'reset by the other side';
  if (code === 'ETIMEDOUT') return 'it stopped answering';
  // A name of several addresses that all failed comes without a message.
  return message.replace(/\.$/u, '') || code;
}
