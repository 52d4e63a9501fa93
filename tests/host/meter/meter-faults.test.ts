import { describe, expect, it, onTestFinished } from 'vitest';
import { createMeters } from '../../../electron/host/acquire/meter/meters.ts';
import type { PortRequest } from '../../../electron/host/acquire/ports/port.ts';
import { openSerialPort } from '../../../electron/host/acquire/ports/serial-port.ts';
import { defaultTiming } from '../../../electron/host/acquire/protocol/timing.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { Profile } from '../../../shared/model/profile.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';

const streaming = { name: 'P', line: { format: 'number' }, channels: [{ role: 'flame_signal', unit: 'V' }] };
const polled = { ...streaming, mode: 'poll', poll: { send: 'READ?\n', everyMs: 20 } };

/** A connected meter on a port and a clock that the test controls. */
async function connectMeter(profile: object, path = 'COM3') {
  let port: PortRequest | undefined;
  let nowMs = 0;
  const meters = createMeters({
    clock: { monotonicMs: () => nowMs, wallMs: () => nowMs },
    timing: { ...defaultTiming, silentMs: 200, retryMs: 50 },
    openPort: async (request) => {
      if (request.path === 'missing') return openSerialPort({ ...request, path: `${testFolder()}/missing` });
      port = request;
      return ok({ startsOnNewLine: true, write: () => {}, close: async () => {} });
    },
    intake: { receive: (source, bytes, atMs) => source.push(bytes, atMs), drain: () => {}, hasBacklog: () => false },
    onLine: (line) => line.meter.publish([line]),
    onGap: () => {},
    onChange: () => {},
  });
  onTestFinished(() => meters.stop());
  await meters.connect(path, Profile.parse(profile));
  return {
    send: (text: string | Uint8Array) => port?.onBytes(Buffer.from(text)),
    lose: () => port?.onLost(),
    advance: (seconds: number) => void (nowMs += 1000 * seconds),
    state: () => meters.view()[0],
    fault: () => meters.view()[0]?.fault,
  };
}

describe('the state of a meter', () => {
  it('is silent, with how long, when an open port sends nothing; and live at the next line', async () => {
    const { fault, state, send, advance } = await connectMeter(streaming);
    await waitUntil('the port', () => state()?.status === 'waiting');
    send('4.61\r\n');
    expect(state()?.status).toBe('live');
    advance(7.4);
    await waitUntil('the silence', () => state()?.status === 'silent');
    expect(fault()).toMatchObject({ code: 'meter-silent', facts: { port: 'COM3', seconds: 7 } });
    send('4.62\r\n');
    expect(state()).toMatchObject({ status: 'live', latest: [{ value: 4.62 }] });
    expect(fault()).toBeUndefined();
  });

  it('is silent with another fault when the meter does not answer its polls', async () => {
    const { fault, state, advance } = await connectMeter(polled);
    await waitUntil('the port', () => state()?.status === 'waiting');
    advance(5.6);
    await waitUntil('the silence', () => state()?.status === 'silent');
    expect(fault()).toMatchObject({ code: 'meter-unanswering', facts: { port: 'COM3', seconds: 6 } });
  });

  it('is unreadable after five lines without a number, with the last as a sample; an overload counts as read', async () => {
    const { fault, state, send } = await connectMeter(streaming);
    send('OL\r\nREADY\r\nREADY\r\nREADY\r\nREADY\r\n');
    expect(state()?.status).toBe('live');
    send('HOLD\u0007\r\n');
    expect(state()?.status).toBe('unreadable');
    expect(fault()).toMatchObject({ code: 'meter-unreadable', facts: { sample: 'HOLD\\x07' } });
    send('4.61\r\n');
    expect(state()?.status).toBe('live');
  });

  it('is lost when its port goes away or cannot be opened', async () => {
    const lost = await connectMeter(streaming);
    await waitUntil('the port', () => lost.state()?.status === 'waiting');
    lost.lose();
    await waitUntil('the loss', () => lost.state()?.status === 'lost');
    expect(lost.fault()).toMatchObject({ code: 'port-lost', facts: { port: 'COM3' } });
    await waitUntil('the port again', () => lost.state()?.status === 'waiting');

    const missing = await connectMeter(streaming, 'missing');
    await waitUntil('the refusal', () => missing.state()?.status === 'lost');
    expect(missing.fault()).toMatchObject({ code: 'port-missing' });
  });

  it('is unreadable when garbage comes over a network, where the speed is set on the serial server', async () => {
    // At a quarter of the speed each bit fills four: nibbles of 0 and F (worked out by hand).
    const garbage = Buffer.from('f000ff0f'.repeat(20), 'hex');
    const network = await connectMeter(streaming, 'tcp://192.0.2.7:4001');
    await waitUntil('the port', () => network.state()?.status === 'waiting');
    network.send(garbage);
    expect(network.state()?.status).toBe('unreadable');
    expect(network.fault()).toMatchObject({ code: 'network-garbled', facts: { port: 'tcp://192.0.2.7:4001' } });
    const serial = await connectMeter(streaming);
    await waitUntil('the port', () => serial.state()?.status === 'waiting');
    serial.send(garbage);
    expect(serial.fault()).toMatchObject({ code: 'meter-garbled', facts: { baudRate: 9600 } });
  });
});
