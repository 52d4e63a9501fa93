import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { frameName } from '../../../electron/host/acquire/detect/serial-framing.ts';
import { detectMeter, detectMeters } from '../../../electron/host/acquire/detect/detect-meters.ts';
import type { OpenPort } from '../../../electron/host/acquire/ports/port.ts';
import { openSerialPort } from '../../../electron/host/acquire/ports/serial-port.ts';
import type { PortDetection } from '../../../shared/contract/api.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { testFolder } from '../../helpers/run-command.ts';
import { count, plugIn } from '../../helpers/pty-meter.ts';

const forever = new AbortController().signal;
const around = (openPort: OpenPort) => ({ openPort, profiles: builtInProfiles, signal: forever });

/** A wire on which bytes come at one speed and frame only; at any other, runs of one level do. Tells what was asked and written. */
function wire(speaks: string, bytes: Uint8Array) {
  const asked: string[] = [];
  let written = '';
  let open = 0;
  const openPort: OpenPort = async ({ serial, onBytes }) => {
    const speed = `${serial.baudRate} ${frameName(serial)}`;
    asked.push(speed);
    open += 1;
    const garbage = Uint8Array.from({ length: 200 }, (_, i) => (i % 2 ? 0xf0 : 0x00));
    queueMicrotask(() => onBytes(speed === speaks ? bytes : garbage));
    return ok({
      startsOnNewLine: false,
      write: (more) => (written += more),
      close: async () => {
        open -= 1;
      },
    });
  };
  return { openPort, asked, written: () => written, open: () => open };
}

const text = (lines: string) => new TextEncoder().encode(lines);

describe('listening to a port', () => {
  it('hears a meter on a pseudo-terminal and says which profile reads it', async () => {
    const meter = await plugIn(join(testFolder(), 'a'));
    count(meter, 100, (n) => `${(n / 100).toFixed(2)} V`);
    const heard = await detectMeter(meter.path, around(openSerialPort));
    expect(heard).toMatchObject({
      status: 'lines',
      serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
      line: 'one number a line with its unit',
    });
    expect(heard.sample).toMatch(/^\d\.\d\d V$/u);
    expect(heard.fits?.map(({ profile }) => profile.name)).toEqual(['Multimeter, volts, one number a line']);
  });

  it('recognises seven data bits with even parity without opening the port again', async () => {
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
    const heard = await detectMeter(meter.path, around(counted));
    expect(heard).toMatchObject({ sample: '2.31 V', serial: { dataBits: 7, parity: 'even', stopBits: 1 } });
    expect(heard.says).toBe('one number a line with its unit at 9600 baud 7E1, such as "2.31 V"');
    expect(opened).toBe(1);
  });

  it('hears a meter that sends only every two seconds, whose one line is whole', async () => {
    const meter = await plugIn(join(testFolder(), 'a'));
    const timer = setTimeout(() => meter.send('2.31 Pa\r\n'), 1900);
    onTestFinished(() => clearTimeout(timer));
    expect(await detectMeter(meter.path, around(openSerialPort))).toMatchObject({ status: 'lines', sample: '2.31 Pa' });
  });

  it('says silent for a silent one, and why a port cannot be opened', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    const [silent, none] = await Promise.all([
      detectMeter(meter.path, around(openSerialPort)),
      detectMeter(join(folder, 'none'), around(openSerialPort)),
    ]);
    expect(silent.status).toBe('silent');
    expect(none.status).toBe('unavailable');
    expect(none.says).toContain('There is no port');
  });

  it('goes on to the next speed while it hears garbage, and writes nothing', async () => {
    const port = wire('19200 8N1', text('x\r\n1.25 V\r\n1.26 V\r\n1.26 V\r\n1.26 V\r\n'));
    const heard = await detectMeter('any', around(port.openPort));
    expect(heard).toMatchObject({ status: 'lines', serial: { baudRate: 19_200 }, sample: '1.25 V' });
    expect(heard.fits?.[0]).toMatchObject({ kept: false, profile: { serial: { baudRate: 19_200 } } });
    expect(port.asked).toEqual(['9600 8N1', '115200 8N1', '19200 8N1']);
    expect(port.written()).toBe('');
    expect(port.open()).toBe(0);
  });

  it('reads the micro sign of either encoding', async () => {
    for (const encoding of ['utf8', 'latin1'] as const) {
      const port = wire('9600 8N1', Buffer.from('4\r\n4.50 µA\r\n4.51 µA\r\n4.52 µA\r\n4.53 µA\r\n', encoding));
      const heard = await detectMeter('any', around(port.openPort));
      expect(heard.sample).toBe('4.50 µA');
      expect(heard.fits?.map(({ profile }) => profile.name)).toEqual(['Microammeter, one number a line']);
    }
  });

  it('tries eight data bits with parity after every speed gave garbage', async () => {
    const port = wire('9600 8E1', text('x\r\n1.25 V\r\n1.26 V\r\n1.26 V\r\n1.26 V\r\n'));
    const heard = await detectMeter('any', around(port.openPort));
    expect(heard).toMatchObject({ status: 'lines', serial: { baudRate: 9600, dataBits: 8, parity: 'even' } });
    expect(port.asked.slice(0, 7)).toEqual(
      ['9600', '115200', '19200', '4800', '38400', '57600', '2400'].map((rate) => `${rate} 8N1`),
    );
  });

  it('gives up on what is no text at any speed, in a number of tries that has an end', async () => {
    const port = wire('never', new Uint8Array());
    expect(await detectMeter('any', around(port.openPort))).toMatchObject({ status: 'unreadable' });
    // Seven speeds, and three of them with each of two parities.
    expect(port.asked).toHaveLength(13);
  });

  it('ends and closes the port as soon as it is stopped', async () => {
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
    const listening = detectMeter('any', { openPort, profiles: [], signal: stopping.signal });
    await new Promise(setImmediate);
    expect(open).toBe(1);
    stopping.abort();
    expect(await listening).toMatchObject({ status: 'unavailable' });
    expect(open).toBe(0);
  });
});

describe('listening to several ports', () => {
  it('hears all at once, tells a connected one from its meter without opening it, and ends', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    count(meter, 50, (n) => `${n} Pa`);
    const opened: string[] = [];
    const openPort: OpenPort = (request) => {
      opened.push(request.path);
      return openSerialPort(request);
    };
    const paths = [meter.path, join(folder, 'none'), 'held'];
    const states: PortDetection[][] = [];
    for await (const state of detectMeters(paths, {
      ...around(openPort),
      meterOn: (path) =>
        path === 'held'
          ? {
              port: 'held',
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

  it('closes every port when the reader leaves', async () => {
    const port = wire('never', new Uint8Array());
    for await (const state of detectMeters(['a', 'b'], { ...around(port.openPort), meterOn: () => undefined })) {
      expect(state).toHaveLength(2);
      break;
    }
    expect(port.open()).toBe(0);
  });
});
