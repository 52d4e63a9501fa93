import { createServer } from 'node:http';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Duplex } from 'node:stream';
import type { WebSocket } from 'ws';
import { WebSocketServer } from 'ws';
import { api } from '../../shared/contract/api.ts';
import type { Api } from '../../shared/contract/api.ts';
import { keyName } from '../../shared/contract/admission.ts';
import { messageLimitBytes } from '../../shared/contract/codec.ts';
import { socketPath } from '../../shared/contract/endpoints.ts';
import { serve } from '../../shared/contract/serve.ts';
import type { BugReport, Handlers } from '../../shared/contract/serve.ts';
import { fault } from '../../shared/model/faults.ts';
import { fail, ok } from '../../shared/model/outcome.ts';
import type { Outcome } from '../../shared/model/outcome.ts';
import { pageHeaders, readPageFiles } from '../host/files/page-files.ts';
import type { PageFiles } from '../host/files/page-files.ts';
import { createAccess } from './access.ts';
import { admit, boundWaiting } from './admission.ts';
import { createGuard } from './guard.ts';
import type { Guard } from './guard.ts';
import { socketChannel } from './socket-channel.ts';

// Only this computer can reach it.
const loopback = '127.0.0.1';

// The tabs of one technician; more are a page out of control.
const socketLimit = 32;

export interface WorkbenchOptions {
  host: { handlers: Handlers<Api> };
  /** 0: any free port. */
  port: number;
  /** The built page: `out/renderer`. */
  rendererFolder: string;
  /** Called with bugs of handlers; the browser only gets `internal`. */
  onBug: BugReport;
}

export interface Workbench {
  port: number;
  /**
   * A new address for one browser: its access key can be used once, and `onUsed` is called then. Not for logs, nor for the arguments of a
   * process, which all users of this computer see.
   */
  newAddress(onUsed?: () => void): string;
  /** Disconnects every page and stops listening. Does not close the host. */
  close(): Promise<void>;
}

/**
 * Serves the workbench to browsers on this computer.
 *
 * Fails with `page-missing` when the page is not built, `address-in-use` when `port` is taken.
 */
export async function serveWorkbench(options: WorkbenchOptions): Promise<Outcome<Workbench>> {
  const files = readPageFiles(options.rendererFolder);
  if (!files.ok) return files;

  // Nobody needs longer to send the few lines of a request.
  const server = createServer({ headersTimeout: 5000, requestTimeout: 5000, connectionsCheckingInterval: 1000 });
  const listenError = await new Promise<NodeJS.ErrnoException | undefined>((resolve) => {
    server.once('error', resolve);
    server.listen(options.port, loopback, () => resolve(undefined));
  });
  if (listenError?.code === 'EADDRINUSE' || listenError?.code === 'EACCES')
    return fail(fault('address-in-use', { port: options.port }));
  if (listenError) throw listenError;

  const { port } = server.address() as AddressInfo;
  const authority = `${loopback}:${port}`;
  const guard = createGuard(authority);
  const access = createAccess();
  const newAddress = (onUsed?: () => void) =>
    `http://${authority}${guard.pageFolder}#${keyName}=${access.newKey(onUsed)}`;
  const handlers = { ...options.host.handlers, 'address.new': async () => ok({ address: newAddress() }) };
  const headers = pageHeaders(`ws://${authority}`);
  const sockets = new WebSocketServer({ noServer: true, maxPayload: messageLimitBytes, perMessageDeflate: false });
  const endWaiting = boundWaiting(server);
  const pages = new Set<WebSocket>();

  server.on('request', (request, response) => respond(request, response, guard, files.value, headers));
  server.on('upgrade', (request, stream, head) => {
    const status = upgradeStatus(request, guard, pages.size);
    if (status) return refuseUpgrade(stream, status);
    return sockets.handleUpgrade(request, stream, head, (socket) =>
      admit(socket, stream, access, () => {
        endWaiting(stream);
        pages.add(socket);
        socket.once('close', () => pages.delete(socket));
        serve(api, handlers, socketChannel(socket), options.onBug);
      }),
    );
  });

  return ok({
    port,
    newAddress,
    close: async () => {
      const closed = new Promise((resolve) => server.close(resolve));
      // A feed of a page ends with its socket: after this the host may close what the feeds read.
      const gone = [...sockets.clients].map((socket) => new Promise((resolve) => socket.once('close', resolve)));
      for (const socket of sockets.clients) socket.terminate();
      server.closeAllConnections();
      await Promise.all([closed, ...gone]);
    },
  });
}

function respond(
  request: IncomingMessage,
  response: ServerResponse,
  guard: Guard,
  files: PageFiles,
  headers: Record<string, string>,
): void {
  const refuse = (status: number, sentence: string) =>
    response
      .writeHead(status, { ...headers, 'Content-Type': 'text/plain; charset=utf-8' })
      .end(request.method === 'HEAD' ? undefined : `${sentence}\n`);
  const path = pathOf(request);
  if (path === undefined) return void refuse(400, 'Not a valid address.');
  const refusal = guard.refuses(request, path);
  if (refusal) return void refuse(403, refusal);
  if (request.method !== 'GET' && request.method !== 'HEAD')
    return void refuse(405, 'Only GET and HEAD requests are allowed.');
  const file = files.get(path.slice(guard.pageFolder.length - 1));
  if (!file) return void refuse(404, 'Pilot Bench has no such page.');

  response.writeHead(200, { ...headers, 'Content-Type': file.type, 'Content-Length': file.bytes.length });
  return void response.end(request.method === 'HEAD' ? undefined : file.bytes);
}

/** The requested path, without its query; undefined when the request names none on this host. */
function pathOf(request: IncomingMessage): string | undefined {
  const target = request.url ?? '';
  // "//elsewhere/" and full URLs would be read as another host.
  return target.startsWith('/') && !target.startsWith('//') ? target.split('?')[0] : undefined;
}

function upgradeStatus(request: IncomingMessage, guard: Guard, open: number): string | undefined {
  if (pathOf(request) === undefined) return '400 Bad Request';
  if (guard.refusesSocket(request)) return '403 Forbidden';
  if (pathOf(request) !== socketPath) return '404 Not Found';
  return open >= socketLimit ? '503 Service Unavailable' : undefined;
}

function refuseUpgrade(stream: Duplex, status: string): void {
  stream.on('error', () => {});
  stream.end(`HTTP/1.1 ${status}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`);
}
