import { describe, expect, it } from 'vitest';
import { portOpener } from '../../../electron/host/acquire/ports/open-port.ts';
import { openTcp, openTcpPort } from '../../../electron/host/acquire/ports/tcp-port.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { isNetworkPort, readNetworkAddress } from '../../../shared/model/network-port.ts';
import { waitUntil } from '../../helpers/run-command.ts';
import { serialServer } from '../../helpers/serial-server.ts';

const serial = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 } as const;

/** What comes on a port, and how it was lost. */
function ear(path: string) {
  const told = { text: '', lost: [] as (Fault | undefined)[] };
  return {
    told,
    request: {
      path,
      serial,
      onBytes: (bytes: Uint8Array) => (told.text += Buffer.from(bytes).toString('latin1')),
      onLost: (why?: Fault) => told.lost.push(why),
    },
  };
}

async function faultOf(path: string): Promise<Fault | undefined> {
  const opened = await openTcpPort(ear(path).request);
  if (opened.ok) await opened.value.close();
  return opened.ok ? undefined : opened.fault;
}

describe('the address of a meter on the network', () => {
  it.each([
    ['tcp://192.0.2.7:4001', '192.0.2.7', 4001],
    ['TCP://bench-server:23/', 'bench-server', 23],
    // An IPv6 address stands in brackets (RFC 3986, 3.2.2).
    ['tcp://[::1]:4001', '::1', 4001],
    ['tcp://[fe80::1%eth0]:4001', 'fe80::1%eth0', 4001],
  ])('%s is read', (path, host, port) => {
    expect(readNetworkAddress(path)).toEqual({ ok: true, value: { host, port } });
  });

  it.each(['tcp://', 'tcp://host', 'tcp://host:0', 'tcp://host:65536', 'tcp://::1:4001', 'tcp://a b:1', 'tcp:host:1'])(
    '%s is none, and a sentence says how to write it',
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
    const refused = await openPort(ear(server.path).request);
    expect(refused).toMatchObject({ ok: false, fault: { code: 'network-off' } });
    expect(server.sockets).toHaveLength(0);
    allowed = true;
    const opened = await openPort(ear(server.path).request);
    expect(opened.ok).toBe(true);
    if (opened.ok) await opened.value.close();
  });

  it.each(['127.0.0.1', '::1'])('gives its bytes as they are and takes polls, at %s', async (host) => {
    const server = await serialServer(host);
    const { told, request } = ear(server.path);
    const opened = await openTcpPort(request);
    if (!opened.ok) throw new Error(opened.fault.message);
    await waitUntil('the connection', () => server.sockets[0]);
    server.sockets[0]?.write(Buffer.from('2.31 \xb5A\r\n\x00\xff', 'latin1'));
    await waitUntil('the bytes', () => told.text.length === 11);
    expect(told.text).toBe('2.31 \xb5A\r\n\x00\xff');
    opened.value.write('READ?\n');
    await waitUntil('the poll', () => server.received() === 'READ?\n');
    await opened.value.close();
    expect(told.lost).toEqual([]);
    opened.value.write('READ?\n');
  });

  it('gives all that was sent before the server hung up, and says so once', async () => {
    const server = await serialServer();
    const { told, request } = ear(server.path);
    const opened = await openTcpPort(request);
    if (!opened.ok) throw new Error(opened.fault.message);
    await waitUntil('the connection', () => server.sockets[0]);
    server.sockets[0]?.end('1.00\r\n'.repeat(20_000));
    await waitUntil('the loss', () => told.lost.length > 0);
    expect(told.text).toHaveLength(120_000);
    expect(told.lost).toMatchObject([{ code: 'network-closed' }]);
    opened.value.write('READ?\n');
    await opened.value.close();
    expect(told.lost).toHaveLength(1);
    expect(server.received()).toBe('');
  });

  it('says that the connection was reset', async () => {
    const server = await serialServer();
    const { told, request } = ear(server.path);
    await openTcpPort(request);
    await waitUntil('the connection', () => server.sockets[0]);
    server.sockets[0]?.resetAndDestroy();
    await waitUntil('the loss', () => told.lost.length > 0);
    expect(told.lost).toMatchObject([{ code: 'network-lost', facts: { reason: 'reset by the other side' } }]);
  });

  it('that refuses, or whose name nobody knows, is told as such', async () => {
    const server = await serialServer();
    await server.stop();
    expect(await faultOf(server.path)).toMatchObject({ code: 'network-refused' });
    // By its name, which may stand for an address of each kind (RFC 6761, 6.3).
    expect(await faultOf(server.path.replace('127.0.0.1', 'localhost'))).toMatchObject({ code: 'network-refused' });
    // RFC 6761, 6.4: names under .invalid do not exist.
    expect(await faultOf('tcp://meter.invalid:4001')).toMatchObject({ code: 'network-name-unknown' });
  });

  it('that does not answer is given up after a time, or at once when nobody waits any more', async () => {
    // RFC 5737: 192.0.2.0/24 is for documentation; nothing answers there, or the system says at once that no way leads there.
    const { request } = ear('tcp://192.0.2.1:4001');
    const late = await openTcp(request, { connectMs: 300, keepAliveMs: 1000 });
    expect(late.ok ? '' : late.fault.code).toMatch(/^network-(?:timeout|unreachable|refused|failed)$/u);
    const stopping = new AbortController();
    const waiting = openTcp({ ...request, signal: stopping.signal }, { connectMs: 60_000, keepAliveMs: 1000 });
    stopping.abort();
    expect((await waiting).ok).toBe(false);
  });
});
