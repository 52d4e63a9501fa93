import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openSerialPort } from '../../electron/host/acquire/serial-port.ts';
import type { OpenPort } from '../../electron/host/acquire/port.ts';
import { listenTo, shapeOf, textLine } from '../../electron/cli/listen.ts';
import { durationMs, wholeNumber } from '../../electron/cli/numbers.ts';
import { parseInstrument } from '../../electron/cli/instruments.ts';
import { ok } from '../../shared/model/outcome.ts';
import { testFolder } from './call.ts';
import { count, plugIn } from './meter.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

describe('listening to a port', () => {
  it('gives a whole line, never the one that was cut by opening', () => {
    expect(textLine(bytes('31\r\n2.32\r\n2.33\r\n2.'))).toBe('2.32');
    expect(textLine(bytes('2.31'))).toBeUndefined();
  });

  it('knows garbage from text', () => {
    const garbage = Uint8Array.from({ length: 200 }, (_, i) => (i * 37) % 256);
    expect(textLine(garbage)).toBeUndefined();
  });

  it('says what a line holds', () => {
    expect(shapeOf('+2.31 inH2O')).toBe('one number a line');
    expect(shapeOf('2.31;4.50;1e-3')).toBe('3 numbers a line');
    expect(shapeOf('READY')).toBe('text without numbers');
  });

  it('hears a meter on a pseudo-terminal', async () => {
    const meter = await plugIn(join(testFolder(), 'a'));
    count(meter, 100, (n) => `${(n / 100).toFixed(2)} V`);
    const heard = await listenTo(meter.path, openSerialPort);
    expect(heard).toMatchObject({ status: 'lines', baudRate: 9600 });
    expect(heard.sample).toMatch(/^\d\.\d\d V$/u);
  });

  it('says silent for a silent one, and why a port cannot be opened', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    expect(await listenTo(meter.path, openSerialPort)).toMatchObject({ status: 'silent' });
    const none = await listenTo(join(folder, 'none'), openSerialPort);
    expect(none.status).toBe('unavailable');
    expect(none.says).toContain('There is no port');
  });

  it('goes on to the next baud rate while it hears garbage, and writes nothing', async () => {
    const asked: number[] = [];
    let written = '';
    const openPort: OpenPort = async (request) => {
      asked.push(request.serial.baudRate);
      const text =
        request.serial.baudRate === 19_200 ? 'x\r\n1.25 V\r\n1.26 V\r\n' : '\u0000\u00ff\u0080\r\n\u0001\u0002';
      queueMicrotask(() => request.onBytes(Buffer.from(text, 'latin1')));
      return ok({ beginsWhole: false, write: (more) => (written += more), close: async () => {} });
    };
    expect(await listenTo('any', openPort)).toMatchObject({ status: 'lines', baudRate: 19_200, sample: '1.25 V' });
    expect(asked).toEqual([9600, 115_200, 19_200]);
    expect(written).toBe('');
  }, 10_000);
});

describe('values of options', () => {
  it('reads lengths of time', () => {
    expect(['60s', '5m', '500ms', '90', '1.5h', '0.5'].map(durationMs)).toEqual([
      60_000, 300_000, 500, 90_000, 5_400_000, 500,
    ]);
    for (const text of ['', '0', '-5s', '5 days', 's', '1e3', '999999999h'])
      expect(() => durationMs(text), text).toThrow();
  });

  it('reads whole numbers within their limits', () => {
    const port = wholeNumber('--port', 0, 65_535);
    expect([port('0'), port('65535')]).toEqual([0, 65_535]);
    for (const text of ['', '-1', '65536', '80.5', '0x50', ' 80']) expect(() => port(text), text).toThrow();
  });

  it('splits port and profile at the first equals sign', () => {
    expect(parseInstrument('/dev/ttyUSB0=Gauge, mode=fast')).toEqual({
      port: '/dev/ttyUSB0',
      profile: 'Gauge, mode=fast',
    });
    for (const text of ['', '/dev/ttyUSB0', '=Gauge', '/dev/ttyUSB0= '])
      expect(() => parseInstrument(text), text).toThrow();
  });
});
