import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createModbusProtocol } from '../../../electron/host/acquire/protocol/modbus-protocol.ts';
import type { ReceivedLine } from '../../../electron/host/acquire/protocol/protocol.ts';
import { systemClock } from '../../../electron/host/clock.ts';
import { Profile } from '../../../shared/model/profile.ts';
import { float32, frame, int16 } from '../../helpers/modbus-slave.ts';

const pressure = { role: 'pilot_pressure', unit: 'Pa' };
const volts = { role: 'flame_signal', unit: 'V', address: 300 };
const everyMs = 500;
const responseTimeoutMs = 1000;

const profileOf = (...channels: object[]) =>
  Profile.parse({
    name: 'test',
    mode: 'poll',
    poll: { everyMs },
    line: { format: 'modbus-rtu', unitId: 1, function: 3, address: 107, type: 'uint16' },
    channels,
  });

/** An open protocol; `receive` is for bytes that arrive, `sent` what was written, `lines` what was emitted. */
function openProtocol(profile: Profile) {
  const lines: ReceivedLine[] = [];
  const sent: string[] = [];
  const onLine = (line: ReceivedLine) => void lines.push(line);
  const protocol = createModbusProtocol({ port: 'COM3', profile, clock: systemClock, responseTimeoutMs, onLine });
  protocol.open((data) => sent.push(Buffer.from(data).toString('hex')));
  /** Removes the lines emitted so far: text, value or flag of each reading, and the code of the fault. */
  const emitted = () => lines.splice(0).map(({ text, readings, fault }) => [text, ...readings.map(({ flag, value }) => flag ?? value), ...(fault ? [fault.code] : [])]); // prettier-ignore
  return {
    protocol,
    sent,
    lines,
    emitted,
    receive: (...bytes: number[]) => protocol.push(Uint8Array.from(bytes), systemClock.monotonicMs()),
  };
}
const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');
/** As people see it; the CRCs are those of the tests' slave, which computes them another way. */
const shown = (bytes: Uint8Array) => hex(bytes).toUpperCase().match(/../gu)!.join(' ');
const wait = (ms: number) => vi.advanceTimersByTime(ms);

const request = hex(frame(1, 3, 0, 107, 0, 1));
const otherRequest = hex(frame(1, 3, 1, 44, 0, 1));
const good = frame(1, 3, 2, ...int16(555));
const goodText = shown(good);

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe('a meter with Modbus registers', () => {
  it('is polled at its interval, and gives a line and a reading for each response', () => {
    const { sent, emitted, receive, lines, protocol } = openProtocol(profileOf(pressure));
    expect(sent).toEqual([]);
    wait(everyMs);
    expect(sent).toEqual([request]);
    receive(...good);
    expect(lines[0]?.bytes.equals(good)).toBe(true);
    expect(lines[0]?.atMs).toBe(protocol.lastReceivedMs());
    expect(emitted()).toEqual([[goodText, 555]]);
    wait(2 * everyMs);
    expect(sent).toEqual([request, request]); // the second poll still waits for its response
  });

  it('is polled for its channels one after the other, each with its own response', () => {
    const { sent, emitted, receive, lines } = openProtocol(profileOf(pressure, volts));
    wait(everyMs);
    expect(sent).toEqual([request]);
    receive(...good);
    wait(10);
    expect(sent).toEqual([request, otherRequest]);
    receive(...frame(1, 3, 2, ...int16(7)));
    expect(lines.map(({ readings }) => readings)).toEqual([
      [{ ...pressure, value: 555 }],
      [{ role: 'flame_signal', unit: 'V', value: 7 }],
    ]);
    emitted();
    wait(everyMs);
    expect(sent).toHaveLength(3);
  });

  it('is read when its response comes in pieces, and behind noise', () => {
    const { emitted, receive } = openProtocol(profileOf(pressure));
    wait(everyMs);
    for (const byte of good) {
      receive(byte);
      wait(10);
    }
    expect(emitted()).toEqual([[goodText, 555]]);
    wait(everyMs);
    receive(0, 0xff, ...good);
    expect(emitted()).toEqual([['00 FF'], [goodText, 555]]);
  });

  it('is read behind the echo of the request', () => {
    const { emitted, receive, protocol } = openProtocol(profileOf(pressure));
    wait(everyMs);
    const before = protocol.lastReceivedMs();
    receive(...frame(1, 3, 0, 107, 0, 1));
    wait(200);
    expect(protocol.lastReceivedMs()).toBe(before); // an echo does not come from the meter
    receive(...good);
    expect(emitted()).toEqual([[shown(frame(1, 3, 0, 107, 0, 1))], [goodText, 555]]);
  });

  it('is not read from a frame with a gap in it', () => {
    const { emitted, receive, sent } = openProtocol(profileOf(pressure, volts));
    wait(everyMs);
    receive(...good.subarray(0, 5));
    wait(120);
    receive(...good.subarray(5));
    wait(120);
    expect(emitted()).toEqual([
      ['01 03 02 02 2B', 'unreadable', 'modbus-damaged'],
      [shown(good.subarray(5)), 'unreadable', 'modbus-late'],
    ]);
    expect(sent).toEqual([request]);
    wait(300);
    expect(sent).toEqual([request, otherRequest]);
  });

  it('is reported when its checksum is wrong, and polled again', () => {
    const { emitted, receive, lines, sent } = openProtocol(profileOf(pressure));
    wait(everyMs);
    const hurt = Uint8Array.from(good);
    hurt[4] = 0x2a;
    receive(...hurt);
    wait(100);
    expect(lines[0]?.fault?.message).toBe(
      `Answers from COM3 are cut short or have a wrong checksum, such as ${shown(hurt)}. Check the baud rate, parity and wiring.`,
    );
    expect(emitted()).toEqual([[shown(hurt), 'unreadable', 'modbus-damaged']]);
    wait(everyMs);
    expect(sent).toHaveLength(2);
    receive(...good);
    expect(emitted()).toEqual([[goodText, 555]]);
  });

  // The codes of MODBUS Application Protocol V1.1b3, section 7, from memory.
  it.each([
    [1, 'it does not know this function', 'Check the function and address in its profile.'],
    [2, 'it has no register at this address', 'Check the function and address in its profile.'],
    [3, 'it does not accept this number of registers', 'Check the function and address in its profile.'],
    [4, 'it has failed', 'Pilot Bench will ask again.'],
    [6, 'it is busy', 'Pilot Bench will ask again.'],
    [99, 'for a reason of its own', 'Pilot Bench will ask again.'],
  ])('reports what exception %d means, and what to do', (code, words, help) => {
    const { receive, lines } = openProtocol(profileOf(pressure));
    wait(everyMs);
    receive(...frame(1, 0x83, code));
    expect(lines[0]?.readings).toEqual([{ ...pressure, value: Number.NaN, flag: 'unreadable' }]);
    expect(lines[0]?.fault).toMatchObject({ code: 'modbus-refused', facts: { code } });
    expect(lines[0]?.fault?.message).toBe(
      `The meter on COM3 does not return register 107 (function 3) of unit 1: ${words} (Modbus exception ${code}). ${help}`,
    );
  });

  it('is still expected to respond when another unit does', () => {
    const { receive, lines, emitted } = openProtocol(profileOf(pressure));
    wait(everyMs);
    receive(...frame(2, 3, 2, ...int16(9)));
    expect(lines[0]?.fault).toMatchObject({ code: 'modbus-foreign', facts: { unit: 2, asked: 1 } });
    expect(lines[0]?.fault?.message).toBe(
      'Unit 2 answered on COM3, but unit 1 was asked. Check unitId in the profile.',
    );
    receive(...good);
    expect(emitted().map(([, reading]) => reading)).toEqual(['unreadable', 555]);
  });
});

describe('a response that comes too late', () => {
  it('is kept and not used, for this channel or the next', () => {
    const { receive, emitted, sent } = openProtocol(profileOf(pressure, volts));
    wait(everyMs);
    wait(responseTimeoutMs + 100);
    receive(...good);
    expect(emitted()).toEqual([[goodText, 'unreadable', 'modbus-late']]);
    expect(sent).toEqual([request]);
    wait(responseTimeoutMs);
    expect(sent).toEqual([request, otherRequest]); // the other channel is polled all the same
    receive(...frame(1, 3, 2, ...int16(7)));
    expect(emitted()).toEqual([[shown(frame(1, 3, 2, ...int16(7))), 7]]);
  });

  it('or before the first request is not used', () => {
    const { receive, emitted } = openProtocol(profileOf(pressure, volts));
    receive(...good);
    expect(emitted()).toEqual([[goodText, 'unreadable', 'unreadable', 'modbus-late']]);
  });

  it('or joined to the right one is not used for the next request', () => {
    const { receive, emitted } = openProtocol(profileOf(pressure, volts));
    wait(everyMs);
    receive(...good, ...good);
    wait(10);
    expect(emitted()).toEqual([
      [goodText, 555],
      [goodText, 'unreadable', 'modbus-late'],
    ]);
  });

  it('is read to its end once it has begun', () => {
    const { receive, emitted } = openProtocol(profileOf({ ...pressure, type: 'float32' }));
    const long = frame(1, 3, 4, ...float32(2.5));
    wait(everyMs + responseTimeoutMs);
    receive(...long.subarray(0, 6));
    wait(40);
    receive(...long.subarray(6));
    expect(emitted()).toMatchObject([[expect.any(String), 2.5]]);
  });
});

describe('the end of a connection', () => {
  it('emits what is left, and sends no more requests', async () => {
    const { receive, emitted, sent, protocol } = openProtocol(profileOf(pressure));
    wait(everyMs);
    receive(...good.subarray(0, 4));
    await protocol.close();
    expect(emitted()).toEqual([['01 03 02 02', 'unreadable', 'modbus-damaged']]);
    wait(10_000);
    expect(sent).toHaveLength(1);
    expect(vi.getTimerCount()).toBe(0);
  });

  it('does not fill the memory with bytes that are no frame', () => {
    const { receive, lines } = openProtocol(profileOf(pressure));
    wait(everyMs);
    for (let i = 0; i < 100; i += 1) receive(...Array.from({ length: 100 }, (_, n) => (n * 37 + i) % 256));
    const kept = lines.reduce((sum, { bytes }) => sum + bytes.length, 0);
    expect(kept).toBeGreaterThan(10_000 - 300);
    for (const { readings } of lines) for (const { value } of readings) expect(value).toBeNaN();
  });
});
