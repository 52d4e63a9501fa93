import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { MessageChannel } from 'node:worker_threads';
import { WebSocket as NodeSocket, WebSocketServer } from 'ws';
import { messageLimitBytes } from '../../shared/contract/codec.ts';
import type { Channel } from '../../shared/contract/define.ts';
import { portChannel } from '../../shared/contract/port-channel.ts';
import type { PortLike } from '../../shared/contract/port-channel.ts';
import { socketChannel } from '../../electron/web/socket-channel.ts';
import { openSocket } from '../../renderer/api/socket-channel.ts';

export interface Pair {
  host: Channel;
  page: Channel;
  end(): Promise<void>;
}

/** A real pair of ports, as the desktop program has. */
async function overPorts(): Promise<Pair> {
  const { port1, port2 } = new MessageChannel();
  const host = portChannel(port1 as unknown as PortLike);
  const page = portChannel(port2 as unknown as PortLike);
  return { host, page, end: async () => page.close() };
}

/** A real socket over the loopback address, with both ends' own code. */
async function overSocket(): Promise<Pair> {
  const server = createServer();
  const sockets = new WebSocketServer({ server, maxPayload: messageLimitBytes });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const accepted = new Promise<Channel>((resolve) => {
    sockets.once('connection', (socket) => resolve(socketChannel(socket)));
  });
  const socket = new NodeSocket(`ws://127.0.0.1:${(server.address() as AddressInfo).port}`);
  // A page that is hung up on while it writes: what comes of it is looked at through the channel.
  socket.on('error', () => {});
  const page = await openSocket(socket as unknown as WebSocket);
  if (!page) throw new Error('the socket did not open');
  return {
    host: await accepted,
    page,
    end: async () => {
      for (const open of sockets.clients) open.terminate();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

export const transports: { name: string; open: () => Promise<Pair> }[] = [
  { name: 'a MessagePort', open: overPorts },
  { name: 'a WebSocket', open: overSocket },
];
