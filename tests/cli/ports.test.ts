import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { runCommand, jsonLines, testFolder } from '../helpers/run-command.ts';
import { count, plugIn } from '../helpers/pty-meter.ts';
import { serialServer } from '../helpers/serial-server.ts';

/** A serial server whose meter sends the line every 50 ms. */
async function speaking(line: string) {
  const server = await serialServer();
  const timer = setInterval(() => server.sockets.forEach((socket) => socket.write(line)), 50);
  onTestFinished(() => clearInterval(timer));
  return server;
}

describe('ports', () => {
  it('says of a port that is given by its path what speaks there and which profile reads it', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    count(meter, 50, (n) => `${n} Pa`);
    const { status, out } = await runCommand(['ports', meter.path, '--json'], folder);
    expect(status).toBe(0);
    expect(jsonLines(out)).toMatchObject([
      {
        path: meter.path,
        heard: {
          status: 'lines',
          baudRate: 9600,
          line: 'one number a line with its unit',
          fits: [{ profile: 'Manometer, one number a line, Pa', kept: true }],
        },
      },
    ]);
    const told = await runCommand(['ports', meter.path], folder);
    expect(told.out).toMatch(
      /at 9600 baud 8N1, such as "\d+ Pa"; matching profile "Manometer, one number a line, Pa"\n$/u,
    );
  }, 30_000);

  it('knows the profiles that were kept in the store, and makes no store', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    count(meter, 20, (n) => `P=${n} S=0`);
    const unknown = await runCommand(['ports', meter.path, '--json'], folder);
    expect(jsonLines(unknown.out)[0]).not.toMatchObject({ heard: { fits: [{ profile: 'Bench gauge' }] } });
    expect(existsSync(join(folder, 'store'))).toBe(false);
    const profile = {
      name: 'Bench gauge',
      line: { format: 'pattern', pattern: 'P=(?<pilot_pressure>[0-9.]+)' },
      channels: [{ role: 'pilot_pressure', unit: 'Pa' }],
    };
    writeFileSync(join(folder, 'gauge.json'), JSON.stringify(profile));
    await runCommand(['record', '--instrument', `${meter.path}=gauge.json`, '--for', '0.3'], folder);
    const known = await runCommand(['ports', meter.path, '--json'], folder);
    expect(jsonLines(known.out)).toMatchObject([{ heard: { fits: [{ profile: 'Bench gauge', kept: true }] } }]);
  }, 30_000);

  it('listens on the network only when that is allowed', async () => {
    const folder = testFolder();
    const server = await speaking('4.61 V\r\n');
    const refused = await runCommand(['ports', server.path, '--json'], folder);
    expect(jsonLines(refused.out)).toMatchObject([{ heard: { status: 'unavailable' } }]);
    expect(refused.out).toContain('--allow-network');
    expect(server.sockets).toHaveLength(0);
    const heard = await runCommand(['ports', server.path, '--allow-network', '--json'], folder);
    expect(jsonLines(heard.out)).toMatchObject([{ heard: { status: 'lines', sample: '4.61 V' } }]);
    expect(server.received()).toBe('');
  }, 30_000);
});

describe('record over the network', () => {
  it('records a meter on the network when that is allowed, and refuses it else', async () => {
    const folder = testFolder();
    const server = await speaking('4.61 V\r\n');
    const asked = ['record', '--instrument', `${server.path}=Multimeter, volts, one number a line`, '--for', '500ms'];
    const refused = await runCommand(asked, folder);
    expect(refused.status).toBe(1);
    expect(refused.err).toContain('--allow-network');
    expect(server.sockets).toHaveLength(0);
    const recorded = await runCommand([...asked, '--allow-network', '--out', 'x.csv'], folder);
    expect(recorded.err).toMatch(/Complete: \d+ lines/u);
    expect(recorded.status).toBe(0);
    expect(readFileSync(join(folder, 'x.csv'), 'utf8')).toContain('4.61');
  }, 30_000);
});
