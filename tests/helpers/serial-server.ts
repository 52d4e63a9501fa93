import { createServer } from 'node:net';
import type { AddressInfo, Socket } from 'node:net';
import { onTestFinished } from 'vitest';

/** A serial server on this machine's loopback address, until the test is over. */
export interface SerialServer {
  path: string;
  sockets: Socket[];
  /** All that was sent to it. */
  received(): string;
  /** Stops: its connections are closed, and new ones refused. */
  stop(): Promise<void>;
}

/** @param port  0: any that is free */
export async function serialServer(host = '127.0.0.1', port = 0): Promise<SerialServer> {
  const sockets: Socket[] = [];
  let received = '';
  const server = createServer((socket) => {
    sockets.push(socket);
    socket.on('data', (bytes: Buffer) => (received += bytes.toString('latin1')));
    socket.on('error', () => {});
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, resolve);
  });
  const stop = async () => {
    for (const socket of sockets) socket.end();
    const closed = new Promise((resolve) => server.close(resolve));
    for (const socket of sockets) socket.destroySoon();
    await closed;
  };
  onTestFinished(async () => {
    for (const socket of sockets) socket.destroy();
    if (server.listening) await stop();
  });
  const address = server.address() as AddressInfo;
  const path = `tcp://${host.includes(':') ? `[${host}]` : host}:${address.port}`;
  return { path, sockets, received: () => received, stop };
}
