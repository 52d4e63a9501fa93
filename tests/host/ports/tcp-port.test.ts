import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { connect } from 'node:net';
import { describe, expect, it, onTestFinished } from 'vitest';
import { portOpener } from '../../../electron/host/acquire/ports/open-port.ts';
import { openTcp, openTcpPort } from '../../../electron/host/acquire/ports/tcp-port.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { isNetworkPort, readNetworkAddress } from '../../../shared/model/ports/network-port.ts';
import { wait, waitUntil } from '../../helpers/wait-until.ts';
import { serialServer } from '../../helpers/serial-server.ts';

const serial = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 } as const;

/** Records what comes on a port, and how it was lost. */
function recordPort(path: string) {
  const events = { text: '', lost: [] as (Fault | undefined)[] };
  return {
    events,
    request: {
      path,
      serial,
      onBytes: (bytes: Uint8Array) => (events.text += Buffer.from(bytes).toString('latin1')),
      onLost: (cause?: Fault) => events.lost.push(cause),
    },
  };
}

/** A server that accepts nothing and whose queue of connections is full, so that the system ignores any further one. */
async function deafServer(): Promise<string> {
  const script = `const server = require('node:net').createServer();
    server.listen({ port: 0, host: '127.0.0.1', backlog: 1 }, () => {
      require('node:fs').writeSync(1, String(server.address().port));
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0);
    });`;
  const child = spawn(process.execPath, ['-e', script], { stdio: ['ignore', 'pipe', 'inherit'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  const [port] = (await once(child.stdout, 'data')) as [Buffer];
  for (let i = 0; i < 4; i += 1) {
    const filler = connect(Number(port.toString()), '127.0.0.1').on('error', () => {});
    onTestFinished(() => void filler.destroy());
  }
  await wait(200);
  return `tcp://127.0.0.1:${port.toString()}`;
}

async function faultOf(path: string): Promise<Fault | undefined> {
  const opened = await openTcpPort(recordPort(path).request);
  if (opened.ok) await opened.value.close();
  return opened.ok ? undefined : opened.fault;
}

describe('the address of a meter on the network', () => {
  it.each([
    ['tcp://192.0.2.7:4001', '192.0.2.7', 4001],
    ['TCP://serial-server:23/', 'serial-server', 23],
    // An IPv6 address stands in brackets (RFC 3986, 3.2.2).
    ['tcp://[::1]:4001', '::1', 4001],
    ['tcp://[fe80::1%eth0]:4001', 'fe80::1%eth0', 4001],
  ])('%s is read', (path, host, port) => {
    expect(readNetworkAddress(path)).toEqual({ ok: true, value: { host, port } });
  });

  it.each(['tcp://', 'tcp://host', 'tcp://host:0', 'tcp://host:65536', 'tcp://::1:4001', 'tcp://a b:1', 'tcp:host:1'])(
    '%s is invalid, and the fault says how to write it',
    (path) => {
      expect(isNetworkPort(path)).toBe(true);
      const read = readNetworkAddress(path);
      expect(read).toMatchObject({ ok: false, fault: { code: 'network-address' } });
      expect(read.ok ? '' : read.fault.message).toContain('tcp://[::1]:4001');
    },
  );

  it('is not a name of a serial port', () => {
    for (const path of ['/dev/ttyUSB0', 'COM3', 'practice:manometer', '/dev/tcp:1'])
      expect(isNetworkPort(path)).toBe(false);
  });
});

describe('a meter on the network', () => {
  it('is not connected to unless it is allowed', async () => {
    const server = await serialServer();
    let allowed = false;
    const openPort = portOpener(() => allowed);
    const refused = await openPort(recordPort(server.path).request);
    expect(refused).toMatchObject({ ok: false, fault: { code: 'network-off' } });
    expect(server.sockets).toHaveLength(0);
    allowed = true;
    const opened = await openPort(recordPort(server.path).request);
    expect(opened.ok).toBe(true);
    if (opened.ok) await opened.value.close();
  });

  it.each(['127.0.0.1', '::1'])('passes on its bytes unchanged and gets polls, at %s', async (host) => {
    const server = await serialServer(host);
    const { events, request } = recordPort(server.path);
    const opened = await openTcpPort(request);
    if (!opened.ok) throw new Error(opened.fault.message);
    await waitUntil('the connection', () => server.sockets[0]);
    server.sockets[0]?.write(Buffer.from('2.31 \xb5A\r\n\x00\xff', 'latin1'));
    await waitUntil('the bytes', () => events.text.length === 11);
    expect(events.text).toBe('2.31 \xb5A\r\n\x00\xff');
    opened.value.write('READ?\n');
    await waitUntil('the poll', () => server.received() === 'READ?\n');
    await opened.value.close();
    expect(events.lost).toEqual([]);
    opened.value.write('READ?\n');
  });

  it('passes on all that was sent before the server hung up, and reports the loss once', async () => {
    const server = await serialServer();
    const { events, request } = recordPort(server.path);
    const opened = await openTcpPort(request);
    if (!opened.ok) throw new Error(opened.fault.message);
    await waitUntil('the connection', () => server.sockets[0]);
    server.sockets[0]?.end('1.00\r\n'.repeat(20_000));
    await waitUntil('the loss', () => events.lost.length > 0);
    expect(events.text).toHaveLength(120_000);
    expect(events.lost).toMatchObject([{ code: 'network-closed' }]);
    opened.value.write('READ?\n');
    await opened.value.close();
    expect(events.lost).toHaveLength(1);
    expect(server.received()).toBe('');
  });

  it('reports that the connection was reset', async () => {
    const server = await serialServer();
    const { events, request } = recordPort(server.path);
    await openTcpPort(request);
    await waitUntil('the connection', () => server.sockets[0]);
    server.sockets[0]?.resetAndDestroy();
    await waitUntil('the loss', () => events.lost.length > 0);
    expect(events.lost).toMatchObject([{ code: 'network-lost', facts: { reason: 'reset by the other side' } }]);
  });

  it('that refuses, or whose name is unknown, is reported as such', async () => {
    const server = await serialServer();
    await server.stop();
    expect(await faultOf(server.path)).toMatchObject({ code: 'network-refused' });
    // By its name, which may stand for an address of each kind (RFC 6761, 6.3).
    expect(await faultOf(server.path.replace('127.0.0.1', 'localhost'))).toMatchObject({ code: 'network-refused' });
    // RFC 6761, 6.4: names under .invalid do not exist.
    expect(await faultOf('tcp://meter.invalid:4001')).toMatchObject({ code: 'network-name-unknown' });
  });

  it('that cannot be reached, or whose address is refused, is reported as such', async () => {
    // TCP has no connections to a multicast address (RFC 9293, 3.9.2.3): Linux finds no route for one.
    expect(await faultOf('tcp://224.0.0.1:4001')).toMatchObject({ code: 'network-unreachable' });
    // A name of 300 characters, where 253 are the most (RFC 1035, 2.3.4): EINVAL, which has no fault of its own.
    expect(await faultOf(`tcp://${'a'.repeat(300)}:4001`)).toMatchObject({
      code: 'network-failed',
      facts: { reason: expect.stringContaining('EINVAL') as string },
    });
  });

  it('that does not answer times out', async () => {
    const path = await deafServer();
    const opened = await openTcp(recordPort(path).request, { connectMs: 1000, keepAliveMs: 1000 });
    expect(opened).toMatchObject({ ok: false, fault: { code: 'network-timeout', facts: { port: path, seconds: 1 } } });
  });

  it('that does not answer times out or is refused, or is cancelled at once', async () => {
    // RFC 5737: 192.0.2.0/24 is for documentation; nothing answers there, or the system reports at once that there is no route.
    const { request } = recordPort('tcp://192.0.2.1:4001');
    const late = await openTcp(request, { connectMs: 300, keepAliveMs: 1000 });
    expect(late.ok ? '' : late.fault.code).toMatch(/^network-(?:timeout|unreachable|refused|failed)$/u);
    const stopping = new AbortController();
    const opening = openTcp({ ...request, signal: stopping.signal }, { connectMs: 60_000, keepAliveMs: 1000 });
    stopping.abort();
    expect((await opening).ok).toBe(false);
  });
});
