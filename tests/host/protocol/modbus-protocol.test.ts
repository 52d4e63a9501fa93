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

/** A talk that has begun; `hear` is what arrives, `asked` what was written, `said` what came out. */
function talkOf(profile: Profile) {
  const said: ReceivedLine[] = [];
  const asked: string[] = [];
  const onSaid = (one: ReceivedLine) => void said.push(one);
  const talk = createModbusProtocol({ port: 'COM3', profile, clock: systemClock, responseTimeoutMs, onLine: onSaid });
  talk.open((data) => asked.push(Buffer.from(data).toString('hex')));
  const out = () => said.splice(0).map(({ text, readings, fault: trouble }) => [text, ...readings.map(({ flag, value }) => flag ?? value), ...(trouble ? [trouble.code] : [])]); // prettier-ignore
  return {
    talk,
    asked,
    said,
    out,
    hear: (...bytes: number[]) => talk.push(Uint8Array.from(bytes), systemClock.monotonicMs()),
  };
}
const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');
/** As people see it; the sums are those of the slave in the tests, which are computed another way. */
const shown = (bytes: Uint8Array) => hex(bytes).toUpperCase().match(/../gu)!.join(' ');
const wait = (ms: number) => vi.advanceTimersByTime(ms);

const question = hex(frame(1, 3, 0, 107, 0, 1));
const otherQuestion = hex(frame(1, 3, 1, 44, 0, 1));
const good = frame(1, 3, 2, ...int16(555));
const goodText = shown(good);

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe('a meter that is asked for registers', () => {
  it('is asked at its pace, and gives a line and a reading for each answer', () => {
    const { asked, out, hear, said, talk } = talkOf(profileOf(pressure));
    expect(asked).toEqual([]);
    wait(everyMs);
    expect(asked).toEqual([question]);
    hear(...good);
    expect(said[0]?.bytes.equals(good)).toBe(true);
    expect(said[0]?.atMs).toBe(talk.lastReceivedMs());
    expect(out()).toEqual([[goodText, 555]]);
    wait(2 * everyMs);
    expect(asked).toEqual([question, question]); // the second round waits for its answer
  });

  it('is asked for its channels one after the other, each answer being its own', () => {
    const { asked, out, hear, said } = talkOf(profileOf(pressure, volts));
    wait(everyMs);
    expect(asked).toEqual([question]);
    hear(...good);
    wait(10);
    expect(asked).toEqual([question, otherQuestion]);
    hear(...frame(1, 3, 2, ...int16(7)));
    expect(said.map(({ readings }) => readings)).toEqual([
      [{ ...pressure, value: 555 }],
      [{ role: 'flame_signal', unit: 'V', value: 7 }],
    ]);
    out();
    wait(everyMs);
    expect(asked).toHaveLength(3);
  });

  it('is understood when its answer comes in pieces, and behind noise', () => {
    const { out, hear } = talkOf(profileOf(pressure));
    wait(everyMs);
    for (const byte of good) {
      hear(byte);
      wait(10);
    }
    expect(out()).toEqual([[goodText, 555]]);
    wait(everyMs);
    hear(0, 0xff, ...good);
    expect(out()).toEqual([['00 FF'], [goodText, 555]]);
  });

  it('is understood behind the echo of the question', () => {
    const { out, hear, talk } = talkOf(profileOf(pressure));
    wait(everyMs);
    const before = talk.lastReceivedMs();
    hear(...frame(1, 3, 0, 107, 0, 1));
    wait(200);
    expect(talk.lastReceivedMs()).toBe(before); // an echo is no sign of the meter
    hear(...good);
    expect(out()).toEqual([[shown(frame(1, 3, 0, 107, 0, 1))], [goodText, 555]]);
  });

  it('is not read from a frame with a gap in it', () => {
    const { out, hear, asked } = talkOf(profileOf(pressure, volts));
    wait(everyMs);
    hear(...good.subarray(0, 5));
    wait(120);
    hear(...good.subarray(5));
    wait(120);
    expect(out()).toEqual([
      ['01 03 02 02 2B', 'unreadable', 'modbus-damaged'],
      [shown(good.subarray(5)), 'unreadable', 'modbus-late'],
    ]);
    expect(asked).toEqual([question]);
    wait(300);
    expect(asked).toEqual([question, otherQuestion]);
  });

  it('is told of in words when its check sum is wrong, and is asked again', () => {
    const { out, hear, said, asked } = talkOf(profileOf(pressure));
    wait(everyMs);
    const hurt = Uint8Array.from(good);
    hurt[4] = 0x2a;
    hear(...hurt);
    wait(100);
    expect(said[0]?.fault?.message).toBe(
      `Answers from COM3 are cut short or have a wrong checksum, such as ${shown(hurt)}. Check the baud rate, parity and wiring.`,
    );
    expect(out()).toEqual([[shown(hurt), 'unreadable', 'modbus-damaged']]);
    wait(everyMs);
    expect(asked).toHaveLength(2);
    hear(...good);
    expect(out()).toEqual([[goodText, 555]]);
  });

  // The codes of MODBUS Application Protocol V1.1b3, section 7, from memory.
  it.each([
    [1, 'it does not know this function', 'Check the function and address in its profile.'],
    [2, 'it has no register at this address', 'Check the function and address in its profile.'],
    [3, 'it does not take this number of registers', 'Check the function and address in its profile.'],
    [4, 'it has failed', 'Pilot Bench will ask again.'],
    [6, 'it is busy', 'Pilot Bench will ask again.'],
    [99, 'for a reason of its own', 'Pilot Bench will ask again.'],
  ])('says in words what exception %d means, and what to do', (code, words, help) => {
    const { hear, said } = talkOf(profileOf(pressure));
    wait(everyMs);
    hear(...frame(1, 0x83, code));
    expect(said[0]?.readings).toEqual([{ ...pressure, value: Number.NaN, flag: 'unreadable' }]);
    expect(said[0]?.fault?.message).toBe(
      `The meter on COM3 does not return register 107 (function 3) of unit 1: ${words} (Modbus exception ${code}). ${help}`,
    );
  });

  it('is waited for while another unit answers', () => {
    const { hear, said, out } = talkOf(profileOf(pressure));
    wait(everyMs);
    hear(...frame(2, 3, 2, ...int16(9)));
    expect(said[0]?.fault?.message).toBe('Unit 2 answered on COM3, but unit 1 was asked. Check unitId in the profile.');
    hear(...good);
    expect(out().map(([, reading]) => reading)).toEqual(['unreadable', 555]);
  });
});

describe('an answer that comes too late', () => {
  it('is kept and not used, for this channel or the next', () => {
    const { hear, out, asked } = talkOf(profileOf(pressure, volts));
    wait(everyMs);
    wait(responseTimeoutMs + 100);
    hear(...good);
    expect(out()).toEqual([[goodText, 'unreadable', 'modbus-late']]);
    expect(asked).toEqual([question]);
    wait(responseTimeoutMs);
    expect(asked).toEqual([question, otherQuestion]); // the other channel has its turn all the same
    hear(...frame(1, 3, 2, ...int16(7)));
    expect(out()).toEqual([[shown(frame(1, 3, 2, ...int16(7))), 7]]);
  });

  it('or before the first question is none', () => {
    const { hear, out } = talkOf(profileOf(pressure, volts));
    hear(...good);
    expect(out()).toEqual([[goodText, 'unreadable', 'unreadable', 'modbus-late']]);
  });

  it('or joined to the right one is not taken for the next', () => {
    const { hear, out } = talkOf(profileOf(pressure, volts));
    wait(everyMs);
    hear(...good, ...good);
    wait(10);
    expect(out()).toEqual([
      [goodText, 555],
      [goodText, 'unreadable', 'modbus-late'],
    ]);
  });

  it('has its time when it has begun', () => {
    const { hear, out } = talkOf(profileOf({ ...pressure, type: 'float32' }));
    const long = frame(1, 3, 4, ...float32(2.5));
    wait(everyMs + responseTimeoutMs);
    hear(...long.subarray(0, 6));
    wait(40);
    hear(...long.subarray(6));
    expect(out()).toMatchObject([[expect.any(String), 2.5]]);
  });
});

describe('the end of a connection', () => {
  it('gives out what is left, and asks nothing more', async () => {
    const { hear, out, asked, talk } = talkOf(profileOf(pressure));
    wait(everyMs);
    hear(...good.subarray(0, 4));
    await talk.close();
    expect(out()).toEqual([['01 03 02 02', 'unreadable', 'modbus-damaged']]);
    wait(10_000);
    expect(asked).toHaveLength(1);
    expect(vi.getTimerCount()).toBe(0);
  });

  it('does not fill the memory with what is no frame', () => {
    const { hear, said } = talkOf(profileOf(pressure));
    wait(everyMs);
    for (let i = 0; i < 100; i += 1) hear(...Array.from({ length: 100 }, (_, n) => (n * 37 + i) % 256));
    const kept = said.reduce((sum, { bytes }) => sum + bytes.length, 0);
    expect(kept).toBeGreaterThan(10_000 - 300);
    for (const { readings } of said) for (const { value } of readings) expect(value).toBeNaN();
  });
});
