import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCommand, jsonLines, startCommand } from '../../helpers/run-command.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { float32, frame, int16, plugInSlave } from '../../helpers/modbus-slave.ts';
import type { Reply, Request } from '../../helpers/modbus-slave.ts';

const profile = {
  name: 'Transmitter, registers',
  mode: 'poll',
  poll: { everyMs: 50 },
  line: { format: 'modbus-rtu', unitId: 17, function: 4, address: 8, type: 'float32' },
  channels: [
    { role: 'pilot_pressure', unit: 'Pa' },
    { role: 'flame_signal', unit: 'mV', function: 3, address: 107, type: 'int16', scale: 0.5 },
  ],
};
const requests = [frame(17, 4, 0, 8, 0, 2), frame(17, 3, 0, 107, 0, 1)].map((bytes) => [...bytes]);

function folderWithProfile(): string {
  const folder = testFolder();
  writeFileSync(join(folder, 'transmitter.json'), JSON.stringify(profile));
  return folder;
}

/** Responds to the n-th request for the pressure with n, and to that for the signal with -2 n. */
function counting() {
  let n = 0;
  return ({ unitId, function: code, address, count }: Request): Reply => {
    if (unitId !== 17) return [];
    if (code === 4 && address === 8 && count === 2) return [frame(17, 4, 4, ...float32((n += 1)))];
    if (code === 3 && address === 107 && count === 1) return [frame(17, 3, 2, ...int16(-2 * n))];
    return [frame(17, code + 0x80, 2)];
  };
}

const rows = (text: string): string[][] =>
  text
    .trim()
    .split('\n')
    .slice(1)
    .map((row) => row.split(','));

/** The bytes written to the slave, request by request. */
const requestsIn = (bytes: number[]): number[][] =>
  Array.from({ length: Math.ceil(bytes.length / 8) }, (_, i) => bytes.slice(8 * i, 8 * i + 8));

describe('record with a Modbus meter', () => {
  it('requests registers, writes nothing else, and records every response as it came', async () => {
    const folder = folderWithProfile();
    const slave = await plugInSlave(join(folder, 'a'), counting());
    const { status, err } = await runCommand(
      ['record', '--instrument', `${slave.path}=transmitter.json`, '--for', '1500ms', '--out', 'visit.zip'],
      folder,
    );
    expect(status, err).toBe(0);

    const written = requestsIn(slave.received());
    expect(written.length).toBeGreaterThan(20);
    for (const [i, bytes] of written.entries()) expect(bytes).toEqual(requests[i % 2]);

    expect((await runCommand(['convert', 'visit.zip', 'visit'], folder)).status).toBe(0);
    const readings = rows(readFileSync(join(folder, 'visit', 'readings.csv'), 'utf8'));
    const of = (role: string) => readings.filter((row) => row[1] === role).map((row) => Number(row[2]));
    const pressures = of('pilot_pressure');
    expect(pressures.length).toBeGreaterThan(10);
    expect(pressures).toEqual(pressures.map((_, i) => (pressures[0] ?? 0) + i));
    // -2 n half-millivolts to the n-th pressure
    const signals = of('flame_signal');
    expect(signals).toEqual(signals.map((_, i) => (signals[0] ?? 0) - i));
    for (const row of readings) expect(row[4]).toBe('');
    // Every response is one line with one reading.
    expect(err).toContain(`Complete: ${readings.length} lines, ${readings.length} readings in `);

    // The bytes of every response are in the package, and survive a second store.
    const again = await runCommand(['import', 'visit'], folder, { PILOT_BENCH_DATA: join(folder, 'other') });
    expect(again.status).toBe(0);
    const [imported] = jsonLines(
      (await runCommand(['captures', '--json'], folder, { PILOT_BENCH_DATA: join(folder, 'other') })).out,
    );
    const out = await runCommand(['export', imported?.['id'] as string, '--out', 'again'], folder, {
      PILOT_BENCH_DATA: join(folder, 'other'),
    });
    expect(out.status).toBe(0);
    const lines = readFileSync(join(folder, 'visit', 'lines.csv'));
    expect(readFileSync(join(folder, 'again', 'lines.csv')).equals(lines)).toBe(true);
    const first = Buffer.from(frame(17, 4, 4, ...float32(pressures[0] ?? 0))).toString('latin1');
    expect(lines.toString('utf8')).toContain(first);
  }, 60_000);

  it('reports what the meter refuses, what is damaged, and when it does not respond; flags and continues', async () => {
    const folder = folderWithProfile();
    const respond = counting();
    let n = 0;
    const slave = await plugInSlave(join(folder, 'a'), (request) => {
      n += 1;
      if (n > 40) return [];
      if (request.function === 3) return [frame(17, 0x83, 2)];
      const [valid] = respond(request) as [Uint8Array];
      return [n > 20 ? Uint8Array.from(valid, (byte, i) => (i === 4 ? byte ^ 1 : byte)) : valid];
    });
    const recording = startCommand(
      ['record', '--instrument', `${slave.path}=transmitter.json`, '--for', '20s', '--out', 'visit.zip'],
      folder,
    );
    await waitUntil('the refusal to be reported', () =>
      recording
        .err()
        .includes(
          `The meter on ${slave.path} does not return register 107 (function 3) of unit 17: it has no register at this address (Modbus exception 2).`,
        ),
    );
    await waitUntil('the silence to be reported', () =>
      recording.err().includes(`The meter on ${slave.path} has not answered for`),
    );
    recording.child.kill('SIGINT');
    expect((await recording.ended).status).toBe(0);
    expect((await runCommand(['convert', 'visit.zip', 'visit'], folder)).status).toBe(0);
    const readings = rows(readFileSync(join(folder, 'visit', 'readings.csv'), 'utf8'));
    const flags = (role: string) => readings.filter((row) => row[1] === role).map((row) => row[4]);
    expect(new Set(flags('flame_signal'))).toEqual(new Set(['unreadable']));
    expect(new Set(flags('pilot_pressure'))).toEqual(new Set(['', 'unreadable']));
  }, 60_000);

  it('starts again when the port is back: whole requests only, and no response from before', async () => {
    const folder = folderWithProfile();
    const slave = await plugInSlave(join(folder, 'a'), counting());
    const recording = startCommand(
      ['record', '--instrument', `${slave.path}=transmitter.json`, '--out', 'visit.zip'],
      folder,
    );
    await waitUntil('the recording', () => recording.err().includes('Recording '));
    await waitUntil('some requests', () => slave.received().length > 80);
    slave.unplug();
    await waitUntil('the loss to be reported', () => recording.err().includes(`Port ${slave.path} was disconnected`));
    const back = await plugInSlave(slave.path, ({ function: code }) =>
      code === 4 ? [frame(17, 4, 4, ...float32(1000))] : [frame(17, 3, 2, ...int16(2000))],
    );
    await waitUntil('some requests', () => back.received().length > 80);
    recording.child.kill('SIGINT');
    expect((await recording.ended).status).toBe(0);
    for (const [i, bytes] of requestsIn(back.received().slice(0, 80)).entries()) expect(bytes).toEqual(requests[i % 2]);
    expect((await runCommand(['convert', 'visit.zip', 'visit'], folder)).status).toBe(0);
    const pressures = rows(readFileSync(join(folder, 'visit', 'readings.csv'), 'utf8'))
      .filter((row) => row[1] === 'pilot_pressure' && row[4] === '')
      .map((row) => Number(row[2]));
    const after = pressures.indexOf(1000);
    expect(after).toBeGreaterThan(2);
    expect(new Set(pressures.slice(after))).toEqual(new Set([1000]));
  }, 30_000);
});
