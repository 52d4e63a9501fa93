import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { frameName } from '../../../electron/host/acquire/detect/serial-framing.ts';
import { detectMeter, detectMeters } from '../../../electron/host/acquire/detect/detect-meters.ts';
import type { OpenPort } from '../../../electron/host/acquire/ports/port.ts';
import { openSerialPort } from '../../../electron/host/acquire/ports/serial-port.ts';
import type { PortDetection } from '../../../shared/contract/api.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { count, plugIn } from '../../helpers/pty-meter.ts';

const forever = new AbortController().signal;
const contextWith = (openPort: OpenPort) => ({ openPort, profiles: builtInProfiles, signal: forever });

/** A port on which text comes at one speed and frame only; at any other, long runs of one level. Records what was tried and written. */
function simulatedPort(speedOfText: string, bytes: Uint8Array) {
  const tried: string[] = [];
  let written = '';
  let open = 0;
  const openPort: OpenPort = async ({ serial, onBytes }) => {
    const speed = `${serial.baudRate} ${frameName(serial)}`;
    tried.push(speed);
    open += 1;
    const garbage = Uint8Array.from({ length: 200 }, (_, i) => (i % 2 ? 0xf0 : 0x00));
    queueMicrotask(() => onBytes(speed === speedOfText ? bytes : garbage));
    return ok({
      startsOnNewLine: false,
      write: (more) => (written += more),
      close: async () => {
        open -= 1;
      },
    });
  };
  return { openPort, tried, written: () => written, open: () => open };
}

const text = (lines: string) => new TextEncoder().encode(lines);

describe('detection on a port', () => {
  it('detects a meter on a pseudo-terminal and the profile that reads it', async () => {
    const meter = await plugIn(join(testFolder(), 'a'));
    count(meter, 100, (n) => `${(n / 100).toFixed(2)} V`);
    const detected = await detectMeter(meter.path, contextWith(openSerialPort));
    expect(detected).toMatchObject({
      status: 'lines',
      serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
      line: 'one number a line with its unit',
    });
    expect(detected.sample).toMatch(/^\d\.\d\d V$/u);
    expect(detected.fits?.map(({ profile }) => profile.name)).toEqual(['Multimeter, volts, one number a line']);
  });

  it('recognizes seven data bits with even parity without opening the port again', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    // "2.31 V" CR LF: ones of 32 3, 2E 4, 33 4, 31 3, 20 1, 56 4, 0D 3, 0A 2; the eighth bit makes them even (by hand).
    const line = Buffer.from('b22e33b1a0568d0a', 'hex');
    const timer = setInterval(() => meter.send(line), 100);
    onTestFinished(() => clearInterval(timer));
    let opened = 0;
    const counted: OpenPort = (request) => {
      opened += 1;
      return openSerialPort(request);
    };
    const detected = await detectMeter(meter.path, contextWith(counted));
    expect(detected).toMatchObject({ sample: '2.31 V', serial: { dataBits: 7, parity: 'even', stopBits: 1 } });
    expect(detected.says).toBe('one number a line with its unit at 9600 baud 7E1, such as "2.31 V"');
    expect(opened).toBe(1);
  });

  it('detects a meter that sends only every two seconds from its one line', async () => {
    const meter = await plugIn(join(testFolder(), 'a'));
    const timer = setTimeout(() => meter.send('2.31 Pa\r\n'), 1900);
    onTestFinished(() => clearTimeout(timer));
    expect(await detectMeter(meter.path, contextWith(openSerialPort))).toMatchObject({
      status: 'lines',
      sample: '2.31 Pa',
    });
  });

  it('reports a silent meter, and why a port cannot be opened', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    const [silent, none] = await Promise.all([
      detectMeter(meter.path, contextWith(openSerialPort)),
      detectMeter(join(folder, 'none'), contextWith(openSerialPort)),
    ]);
    expect(silent.status).toBe('silent');
    expect(none.status).toBe('unavailable');
    expect(none.says).toContain('There is no port');
  });

  it('tries the next speed when it receives garbage, and writes nothing', async () => {
    const port = simulatedPort('19200 8N1', text('x\r\n1.25 V\r\n1.26 V\r\n1.26 V\r\n1.26 V\r\n'));
    const detected = await detectMeter('any', contextWith(port.openPort));
    expect(detected).toMatchObject({ status: 'lines', serial: { baudRate: 19_200 }, sample: '1.25 V' });
    expect(detected.fits?.[0]).toMatchObject({ kept: false, profile: { serial: { baudRate: 19_200 } } });
    expect(port.tried).toEqual(['9600 8N1', '115200 8N1', '19200 8N1']);
    expect(port.written()).toBe('');
    expect(port.open()).toBe(0);
  });

  it('reads the micro sign of either encoding', async () => {
    for (const encoding of ['utf8', 'latin1'] as const) {
      const port = simulatedPort(
        '9600 8N1',
        Buffer.from('4\r\n4.50 µA\r\n4.51 µA\r\n4.52 µA\r\n4.53 µA\r\n', encoding),
      );
      const detected = await detectMeter('any', contextWith(port.openPort));
      expect(detected.sample).toBe('4.50 µA');
      expect(detected.fits?.map(({ profile }) => profile.name)).toEqual(['Microammeter, one number a line']);
    }
  });

  it('tries eight data bits with parity after every speed gave garbage', async () => {
    const port = simulatedPort('9600 8E1', text('x\r\n1.25 V\r\n1.26 V\r\n1.26 V\r\n1.26 V\r\n'));
    const detected = await detectMeter('any', contextWith(port.openPort));
    expect(detected).toMatchObject({ status: 'lines', serial: { baudRate: 9600, dataBits: 8, parity: 'even' } });
    expect(port.tried.slice(0, 7)).toEqual(
      ['9600', '115200', '19200', '4800', '38400', '57600', '2400'].map((rate) => `${rate} 8N1`),
    );
  });

  it('gives up after a limited number of tries when no speed gives text', async () => {
    const port = simulatedPort('never', new Uint8Array());
    expect(await detectMeter('any', contextWith(port.openPort))).toMatchObject({ status: 'unreadable' });
    // Seven speeds, and three of them with each of two parities.
    expect(port.tried).toHaveLength(13);
  });

  it('ends and closes the port as soon as it is cancelled', async () => {
    let open = 0;
    const openPort: OpenPort = async () => {
      open += 1;
      return ok({
        startsOnNewLine: false,
        write: () => {},
        close: async () => {
          open -= 1;
        },
      });
    };
    const stopping = new AbortController();
    const detection = detectMeter('any', { openPort, profiles: [], signal: stopping.signal });
    await new Promise(setImmediate);
    expect(open).toBe(1);
    stopping.abort();
    expect(await detection).toMatchObject({ status: 'unavailable' });
    expect(open).toBe(0);
  });
});

describe('detection on several ports', () => {
  it('runs on all at once, describes a connected meter by its state without opening its port, and ends', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    count(meter, 50, (n) => `${n} Pa`);
    const opened: string[] = [];
    const openPort: OpenPort = (request) => {
      opened.push(request.path);
      return openSerialPort(request);
    };
    const paths = [meter.path, join(folder, 'none'), 'connected'];
    const states: PortDetection[][] = [];
    for await (const state of detectMeters(paths, {
      ...contextWith(openPort),
      meterOn: (path) =>
        path === 'connected'
          ? {
              port: 'connected',
              profile: 'Manometer, one number a line',
              status: 'live',
              linesPerSecond: 4,
              lines: 9,
              latest: [],
              recentLines: ['2.30', '2.31', ''],
            }
          : undefined,
    }))
      states.push(state);
    expect(states[0]?.map(({ path }) => path)).toEqual(paths);
    expect(states[0]?.[0]?.status).toBe('listening');
    expect(states.at(-1)).toMatchObject([
      { status: 'lines', line: 'one number a line with its unit' },
      { status: 'unavailable' },
      { status: 'connected', sample: '2.31', says: 'connected as Manometer, one number a line: it is being read' },
    ]);
    expect(opened).toEqual([meter.path, join(folder, 'none')]);
  });

  it('closes every port when the consumer leaves', async () => {
    const port = simulatedPort('never', new Uint8Array());
    for await (const state of detectMeters(['a', 'b'], { ...contextWith(port.openPort), meterOn: () => undefined })) {
      expect(state).toHaveLength(2);
      break;
    }
    expect(port.open()).toBe(0);
  });
});
