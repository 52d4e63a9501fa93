import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import type { IncomingHttpHeaders } from 'node:http';
import { connect as connectTcp } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { WebSocket as NodeSocket } from 'ws';
import type { Admission } from '../../renderer/api/enter-workbench.ts';
import { serveWorkbench } from '../../electron/web/serve.ts';
import type { Workbench } from '../../electron/web/serve.ts';
import type { HelloAnswer } from '../../shared/contract/admission.ts';
import { decode, encode } from '../../shared/contract/codec.ts';
import type { Api } from '../../shared/contract/api.ts';
import type { Handlers } from '../../shared/contract/serve.ts';

/** A small page in a folder of its own, with a secret file beside it that must not be served. */
export function makePage(): { folder: string; remove: () => void } {
  const root = mkdtempSync(join(tmpdir(), 'pilot-bench-web-'));
  const folder = join(root, 'page');
  mkdirSync(join(folder, 'assets'), { recursive: true });
  writeFileSync(join(root, 'secret.txt'), 'outside');
  mkdirSync(join(root, 'page-beside'));
  writeFileSync(join(root, 'page-beside', 'secret.txt'), 'outside');
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>page</title>');
  writeFileSync(join(folder, 'assets', 'main.js'), 'export const one = 1;');
  writeFileSync(join(folder, 'assets', 'main.css'), 'body {}');
  writeFileSync(join(folder, 'assets', 'type.woff2'), Uint8Array.of(1, 2, 3));
  return { folder, remove: () => rmSync(root, { recursive: true }) };
}

export interface Served {
  workbench: Workbench;
  bugs: unknown[];
  /** `127.0.0.1:PORT`. */
  authority: string;
  /** Path of the page: `/NAME/`. */
  pageFolder: string;
  /** What a browser was given for its address. */
  admission: Admission;
  token: string;
}

/** A workbench whose host has only these handlers. */
export async function serveWith(folder: string, handlers: Partial<Handlers<Api>>): Promise<Served> {
  const bugs: unknown[] = [];
  const started = await serveWorkbench({
    host: { handlers: handlers as Handlers<Api> },
    port: 0,
    rendererFolder: folder,
    onBug: (_name, error) => bugs.push(error),
  });
  if (!started.ok) throw new Error(started.fault.message);
  const { host: authority, pathname: pageFolder } = new URL(started.value.newAddress());
  const served = { workbench: started.value, bugs, authority, pageFolder };
  const answer = await sayHello(openSocket(served), { key: keyOf(started.value.newAddress()) });
  if (answer?.kind !== 'welcome') throw new Error('no token for the key');
  const { token, proof } = answer;
  return { ...served, admission: { token, proof }, token };
}

/** The one-time key in an address. */
export const keyOf = (address: string): string => new URLSearchParams(new URL(address).hash.slice(1)).get('key') ?? '';

/** A socket as our page opens it, before its first message. */
export function openSocket({ authority }: Pick<Served, 'authority'>): NodeSocket {
  const socket = new NodeSocket(`ws://${authority}/socket`, { headers: { origin: `http://${authority}` } });
  // The host may close it during a write; the test checks the consequences.
  socket.on('error', () => {});
  return socket;
}

/** Sends the first message of a page; gives the host's answer, undefined when the host hangs up without one. */
export function sayHello(socket: NodeSocket, shown: Record<string, unknown>): Promise<HelloAnswer | undefined> {
  return new Promise((resolve) => {
    const send = () => socket.send(encode({ kind: 'hello', ...shown }));
    if (socket.readyState === socket.OPEN) send();
    else socket.once('open', send);
    socket.once('message', (bytes: Buffer) => resolve(decode(bytes) as HelloAnswer));
    socket.once('close', () => resolve(undefined));
  });
}

export interface Response {
  status: number;
  headers: IncomingHttpHeaders;
  body: string;
}

/** One request exactly as it is given: the path is not normalized, and any header is sent. */
export function sendRequest(
  authority: string,
  path: string,
  headers: Record<string, string> = {},
  method = 'GET',
): Promise<Response> {
  const [host, port] = authority.split(':');
  return new Promise((resolve, reject) => {
    const sent = request({ host, port, path, method, headers, agent: false }, (response) => {
      let body = '';
      response.setEncoding('utf8');
      response.on('data', (part: string) => (body += part));
      response.on('end', () => resolve({ status: response.statusCode ?? 0, headers: response.headers, body }));
    });
    sent.on('error', reject);
    sent.end();
  });
}

/** The status line of the response to opening a socket with these headers. */
export function socketStatus(authority: string, headers: Record<string, string>, path = '/socket'): Promise<string> {
  const [host, port] = authority.split(':');
  return new Promise((resolve, reject) => {
    const socket = connectTcp({ host, port: Number(port) });
    const lines = Object.entries({
      Connection: 'Upgrade',
      Upgrade: 'websocket',
      'Sec-WebSocket-Version': '13',
      'Sec-WebSocket-Key': Buffer.alloc(16).toString('base64'),
      ...headers,
    }).map(([name, value]) => `${name}: ${value}\r\n`);
    socket.write(`GET ${path} HTTP/1.1\r\n${lines.join('')}\r\n`);
    socket.once('data', (data) => {
      resolve(data.toString('latin1').split('\r\n')[0] ?? '');
      socket.destroy();
    });
    socket.once('error', reject);
  });
}
