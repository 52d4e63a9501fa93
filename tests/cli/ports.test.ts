import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { runCommand, jsonLines } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { count, plugIn } from '../helpers/pty-meter.ts';
import { serialServer } from '../helpers/serial-server.ts';

/** A serial server whose meter sends the line every 50 ms. */
async function sendingServer(line: string) {
  const server = await serialServer();
  const timer = setInterval(() => server.sockets.forEach((socket) => socket.write(line)), 50);
  onTestFinished(() => clearInterval(timer));
  return server;
}

describe('ports', () => {
  it('reports the meter on a port that is given by its path, and the profile that reads it', async () => {
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
    const forPeople = await runCommand(['ports', meter.path], folder);
    expect(forPeople.out).toMatch(
      /at 9600 baud 8N1, such as "\d+ Pa"; matching profile "Manometer, one number a line, Pa"\n$/u,
    );
  }, 30_000);

  it('matches the profiles saved in the store, and creates no store', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    count(meter, 20, (n) => `P=${n} S=0`);
    const unknown = await runCommand(['ports', meter.path, '--json'], folder);
    expect(jsonLines(unknown.out)[0]).not.toMatchObject({ heard: { fits: [{ profile: 'Test gauge' }] } });
    expect(existsSync(join(folder, 'store'))).toBe(false);
    const profile = {
      name: 'Test gauge',
      line: { format: 'pattern', pattern: 'P=(?<pilot_pressure>[0-9.]+)' },
      channels: [{ role: 'pilot_pressure', unit: 'Pa' }],
    };
    writeFileSync(join(folder, 'gauge.json'), JSON.stringify(profile));
    await runCommand(['record', '--instrument', `${meter.path}=gauge.json`, '--for', '0.3'], folder);
    const known = await runCommand(['ports', meter.path, '--json'], folder);
    expect(jsonLines(known.out)).toMatchObject([{ heard: { fits: [{ profile: 'Test gauge', kept: true }] } }]);
  }, 30_000);

  it('listens on the network only when that is allowed', async () => {
    const folder = testFolder();
    const server = await sendingServer('4.61 V\r\n');
    const refused = await runCommand(['ports', server.path, '--json'], folder);
    expect(jsonLines(refused.out)).toMatchObject([{ heard: { status: 'unavailable' } }]);
    expect(refused.out).toContain('--allow-network');
    expect(server.sockets).toHaveLength(0);
    const detected = await runCommand(['ports', server.path, '--allow-network', '--json'], folder);
    expect(jsonLines(detected.out)).toMatchObject([{ heard: { status: 'lines', sample: '4.61 V' } }]);
    expect(server.received()).toBe('');
  }, 30_000);
});

describe('record over the network', () => {
  it('records a meter on the network when that is allowed, and refuses it otherwise', async () => {
    const folder = testFolder();
    const server = await sendingServer('4.61 V\r\n');
    const args = ['record', '--instrument', `${server.path}=Multimeter, volts, one number a line`, '--for', '500ms'];
    const refused = await runCommand(args, folder);
    expect(refused.status).toBe(1);
    expect(refused.err).toContain('--allow-network');
    expect(server.sockets).toHaveLength(0);
    const recorded = await runCommand([...args, '--allow-network', '--out', 'x.csv'], folder);
    expect(recorded.status, recorded.err).toBe(0);
    const rows = readFileSync(join(folder, 'x.csv'), 'utf8').trim().split('\n').slice(1);
    expect(recorded.err).toContain(`Complete: ${rows.length} lines, ${rows.length} readings in `);
    // The first line may be the rest of one, and is flagged then.
    expect(rows.length).toBeGreaterThan(1);
    for (const row of rows.slice(1)) expect(row.split(',')[1]).toBe('4.61');
  }, 30_000);
});
