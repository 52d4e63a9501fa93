import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { createHost } from '../../../electron/host/host.ts';
import type { Host } from '../../../electron/host/host.ts';
import { createNetworkSwitch } from '../../../electron/host/acquire/ports/network-switch.ts';
import type { PortDetection, MeterState } from '../../../shared/contract/api.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { count, plugIn } from '../../helpers/pty-meter.ts';
import { serialServer } from '../../helpers/serial-server.ts';

const manometer = 'Manometer, one number a line';
const signal = new AbortController().signal;

function startHost(folder: string): Host {
  const host = createHost({
    dataFolder: folder,
    practice: true,
    version: '0',
    host: 'browser',
    timing: { retryMs: 100 },
  });
  if (!host.ok) throw new Error(host.fault.message);
  onTestFinished(async () => void (await host.value.close()));
  return host.value;
}

/** Follows the connected meters. */
function follow({ handlers }: Host): () => MeterState | undefined {
  let now: MeterState | undefined;
  const ended = new AbortController();
  const following = (async () => {
    for await (const [meter] of handlers['meters.live']({}, ended.signal)) now = meter;
  })();
  onTestFinished(async () => {
    ended.abort();
    await following;
  });
  return () => now;
}

async function listen({ handlers }: Host, ports: string[]): Promise<PortDetection[]> {
  let detections: PortDetection[] = [];
  for await (const state of handlers['ports.listen']({ ports }, signal)) detections = state as PortDetection[];
  return detections;
}

describe('a meter on the network', () => {
  it('is refused until it is allowed, then read, reconnected after a loss, and disconnected when it is no longer allowed', async () => {
    const folder = testFolder();
    const host = startHost(folder);
    const meter = follow(host);
    const server = await serialServer();
    const port = server.path;
    expect(await host.handlers['network.get']({}, signal)).toEqual({ ok: true, value: { allowed: false } });
    expect(await host.handlers['meters.connect']({ port, profile: manometer }, signal)).toMatchObject({
      ok: false,
      fault: { code: 'network-off' },
    });
    expect(await listen(host, [port])).toMatchObject([{ status: 'unavailable' }]);
    expect(server.sockets).toHaveLength(0);

    await host.handlers['network.allow']({ allowed: true }, signal);
    expect((await host.handlers['meters.connect']({ port, profile: manometer }, signal)).ok).toBe(true);
    await waitUntil('the connection', () => server.sockets[0]);
    await waitUntil('the port to be open', () => meter()?.status === 'waiting');
    server.sockets[0]?.write('2.30 inH2O\n2.31 inH2O\n');
    await waitUntil('the reading', () => meter()?.latest[0]?.value === 2.31);

    await server.stop();
    await waitUntil('the loss', () => meter()?.fault?.code === 'network-refused');
    expect(meter()?.status).toBe('lost');
    const again = await serialServer('127.0.0.1', Number(port.split(':').at(-1)));
    await waitUntil('the return', () => again.sockets[0]);
    await waitUntil('the port to be open', () => meter()?.status === 'waiting');
    again.sockets[0]?.write('2.39 inH2O\n2.40 inH2O\n');
    await waitUntil('the reading', () => meter()?.latest[0]?.value === 2.4);
    expect(server.received() + again.received()).toBe('');

    await host.handlers['network.allow']({ allowed: false }, signal);
    await waitUntil('the meter to be gone', () => meter() === undefined);
    await waitUntil('the connection to be closed', () => again.sockets[0]?.readableEnded);
  });

  it('with an invalid address is refused, allowed or not', async () => {
    const host = startHost(testFolder());
    const connected = await host.handlers['meters.connect']({ port: 'tcp://nowhere', profile: manometer }, signal);
    expect(connected).toMatchObject({ ok: false, fault: { code: 'network-address' } });
  });
});

describe('detection from the workbench', () => {
  it('finds the meters on a serial port, a serial server and the practice bench at once, and matches a saved profile', async () => {
    const folder = testFolder();
    const host = startHost(folder);
    await host.handlers['network.allow']({ allowed: true }, signal);
    const gauge = {
      name: 'Test gauge',
      line: { format: 'pattern' as const, pattern: 'P=(?<pilot_pressure>[0-9.]+)' },
      channels: [{ role: 'pilot_pressure' as const, unit: 'Pa', scale: 1, offset: 0 }],
      serial: { baudRate: 9600, dataBits: 8 as const, parity: 'none' as const, stopBits: 1 as const },
      mode: 'stream' as const,
      overload: ['OL'],
    };
    expect((await host.handlers['profiles.save']({ profile: gauge }, signal)).ok).toBe(true);
    const meter = await plugIn(`${folder}/a`);
    count(meter, 50, (n) => `P=${n} S=0`);
    const server = await serialServer();
    const timer = setInterval(() => server.sockets.forEach((socket) => socket.write('4.61 V\r\n')), 50);
    onTestFinished(() => clearInterval(timer));

    const [serial, network, practice] = await listen(host, [meter.path, server.path, 'practice:manometer']);
    expect(serial).toMatchObject({ status: 'lines', line: 'two numbers a line' });
    expect(serial?.fits?.[0]).toMatchObject({ kept: true, profile: { name: 'Test gauge' } });
    expect(network).toMatchObject({ status: 'lines', sample: '4.61 V', line: 'one number a line with its unit' });
    expect(network?.serial).toBeUndefined();
    expect(practice?.status).toBe('lines');
    expect(server.received()).toBe('');
  });

  it('describes a connected meter by its state, and the meter stays connected', async () => {
    const folder = testFolder();
    const host = startHost(folder);
    const seen = follow(host);
    const meter = await plugIn(`${folder}/a`);
    count(meter, 50, (n) => `${n} Pa`);
    await host.handlers['meters.connect']({ port: meter.path, profile: manometer }, signal);
    await waitUntil('the meter', () => seen()?.status === 'live');
    expect(await listen(host, [meter.path])).toMatchObject([{ status: 'connected' }]);
    expect(seen()?.status).toBe('live');
  });
});

describe('the switch for meters on the network', () => {
  it('is off at first, is saved with the store, and off again when the saved setting cannot be read', async () => {
    const folder = testFolder();
    expect(createNetworkSwitch(folder, undefined).allowed()).toBe(false);
    const before = createNetworkSwitch(folder, undefined);
    expect((await before.set(true)).ok).toBe(true);
    expect(before.allowed()).toBe(true);
    expect(createNetworkSwitch(folder, undefined).allowed()).toBe(true);
    expect(createNetworkSwitch(folder, false).allowed()).toBe(false);
    writeFileSync(join(folder, 'network.json'), '{"allowed":"yes"}');
    expect(createNetworkSwitch(folder, undefined).allowed()).toBe(false);
  });

  it('does not change when it cannot be saved', async () => {
    const folder = join(testFolder(), 'file');
    writeFileSync(folder, '');
    const network = createNetworkSwitch(folder, undefined);
    expect(await network.set(true)).toMatchObject({ ok: false, fault: { code: 'file-unwritable' } });
    expect(network.allowed()).toBe(false);
  });
});
