import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCommand, jsonLines, startCommand } from '../../helpers/run-command.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { wait, waitUntil } from '../../helpers/wait-until.ts';
import { count, plugIn, plugInPolled } from '../../helpers/pty-meter.ts';
import { serialServer } from '../../helpers/serial-server.ts';

const manometer = 'Manometer, one number a line';
const voltmeter = 'Multimeter, volts, one number a line';

/** Two meters that count: every number is sent once, so that a lost or repeated line shows. */
async function twoMeters(folder: string) {
  const [a, b] = await Promise.all([plugIn(join(folder, 'a')), plugIn(join(folder, 'b'))]);
  count(a, 20, (n) => (n / 1000).toFixed(3));
  count(b, 50, (n) => (n / 100).toFixed(2));
  return { a, b, instruments: ['--instrument', `${a.path}=${manometer}`, '--instrument', `${b.path}=${voltmeter}`] };
}

/**
 * The numbers of one column of a wide CSV, as whole counts. The first line after opening a port that talks may be the rest of one: it
 * is flagged, and left out here.
 */
const column = (csv: string, name: string, per: number): number[] => {
  const [head = '', ...rows] = csv.split(/\r?\n/u).filter((line) => line !== '' && !line.startsWith('#'));
  const index = head.split(',').indexOf(name);
  return rows
    .map((row) => row.split(',')[index] ?? '')
    .filter((cell) => cell !== '')
    .filter((cell, i) => i > 0 || Number.isFinite(Number(cell)))
    .map((cell) => Math.round(Number(cell) * per));
};

const isConsecutive = (numbers: number[]): boolean =>
  numbers.every((n, i) => i === 0 || n === (numbers[i - 1] as number) + 1);

describe('record', () => {
  it('records two meters for a time and exports what it recorded, nothing lost', async () => {
    const folder = testFolder();
    const { instruments } = await twoMeters(folder);
    const { status, out, err } = await runCommand(
      ['record', ...instruments, '--for', '1500ms', '--out', 'visit.csv', '--technician', 'Ida Brandl'],
      folder,
    );
    expect(status, err).toBe(0);
    expect(out).toMatch(/^\S+\n$/u);

    const csv = readFileSync(join(folder, 'visit.csv'), 'utf8');
    const pressures = column(csv, 'pilot_pressure_inH2O', 1000);
    const signals = column(csv, 'flame_signal_V', 100);
    expect(isConsecutive(pressures)).toBe(true);
    expect(isConsecutive(signals)).toBe(true);
    // 75 and 30 would be sent in 1.5 s; a busy machine may be a little late at both ends.
    expect(pressures.length).toBeGreaterThan(55);
    expect(signals.length).toBeGreaterThan(20);

    const [capture] = jsonLines((await runCommand(['captures', '--json'], folder)).out);
    expect(Object.keys(capture ?? {})).toEqual(['id', 'startedAt', 'burner', 'status', 'lines', 'readings']);
    expect(capture).toMatchObject({ id: out.trim(), status: 'complete' });
    expect(err).toContain(
      `Complete: ${String(capture?.['lines'])} lines, ${String(capture?.['readings'])} readings in `,
    );
    const flagged = (capture?.['lines'] as number) - pressures.length - signals.length;
    expect([0, 1, 2]).toContain(flagged);
  }, 30_000);

  it.each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)(
    'completes the capture on %s: exported, exit status 0',
    async (signal) => {
      const folder = testFolder();
      const { instruments } = await twoMeters(folder);
      const recording = startCommand(['record', ...instruments, '--out', 'visit.zip', '--json'], folder);
      await waitUntil('the recording', () => recording.err().includes('Recording '));
      await wait(600);
      recording.child.kill(signal);
      const { status, out } = await recording.ended;
      expect(status).toBe(0);
      const [capture] = jsonLines(out);
      expect(capture).toMatchObject({ status: 'complete' });
      const again = await runCommand(['import', 'visit.zip', '--json'], folder);
      expect(jsonLines(again.out)).toEqual([{ file: 'visit.zip', id: capture?.['id'], added: false }]);
    },
    30_000,
  );

  it('keeps everything recorded when it is killed, as interrupted', async () => {
    const folder = testFolder();
    const { instruments } = await twoMeters(folder);
    const recording = startCommand(['record', ...instruments], folder);
    await waitUntil('the recording', () => recording.err().includes('Recording '));
    await wait(1200);
    const during = jsonLines((await runCommand(['captures', '--json'], folder)).out);
    expect(during[0]).toMatchObject({ status: 'recording' });
    recording.child.kill('SIGKILL');
    await recording.ended;

    const [capture] = jsonLines((await runCommand(['captures', '--json'], folder)).out);
    expect(capture).toMatchObject({ id: during[0]?.['id'], status: 'interrupted' });
    expect(capture?.['lines'] as number).toBeGreaterThanOrEqual(during[0]?.['lines'] as number);
    expect(capture?.['lines'] as number).toBeGreaterThan(40);
    const exported = await runCommand(['export', capture?.['id'] as string, '--out', 'kept.csv'], folder);
    expect(exported.status).toBe(0);
    expect(isConsecutive(column(readFileSync(join(folder, 'kept.csv'), 'utf8'), 'pilot_pressure_inH2O', 1000))).toBe(
      true,
    );
  }, 30_000);

  it('accepts a profile from a JSON file, and reports its unknown keys', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    count(meter, 20, (n) => `P=${n} Pa; OK`);
    const profile = {
      name: 'Test gauge',
      line: { format: 'pattern', pattern: 'P=(?<pilot_pressure>[0-9.]+)' },
      channels: [{ role: 'pilot_pressure', unit: 'Pa' }],
    };
    const misspelt = { ...profile, serial: { baud: 19_200 }, channels: [{ ...profile.channels[0], scal: 2 }] };
    writeFileSync(join(folder, 'gauge.json'), `\uFEFF${JSON.stringify(misspelt)}`);
    const { status, err } = await runCommand(
      ['record', '--instrument', `${meter.path}=gauge.json`, '--for', '0.5', '--out', 'x.csv'],
      folder,
    );
    expect(status).toBe(0);
    expect(isConsecutive(column(readFileSync(join(folder, 'x.csv'), 'utf8'), 'pilot_pressure_Pa', 1))).toBe(true);
    for (const key of ['serial.baud', 'channels.0.scal'])
      expect(err).toContain(`gauge.json: the key ${key} is not recognized and was ignored.\n`);
  }, 30_000);

  it('polls a multimeter with READ?, reads its responses and writes nothing else', async () => {
    const folder = testFolder();
    let received = '';
    let n = 0;
    const meter = await plugInPolled(join(folder, 'a'), (bytes) => {
      received += bytes.toString('latin1');
      for (let polls = bytes.toString('latin1').split('READ?\n').length - 1; polls > 0; polls -= 1) {
        n += 1;
        meter.send(
          n === 2 ? '+9.90000000E+37\r\n' : `+${(n / 1000).toExponential(8).replace(/e-(\d)$/u, 'E-0$1')}\r\n`,
        );
      }
    });
    const { status } = await runCommand(
      [
        'record',
        '--instrument',
        `${meter.path}=Multimeter, SCPI, volts, asked with READ?`,
        '--for',
        '3s',
        '--out',
        'x.zip',
      ],
      folder,
    );
    expect(status).toBe(0);
    expect(received).toMatch(/^(?:READ\?\n){4,}$/u);
    expect((await runCommand(['convert', 'x.zip', 'x'], folder)).status).toBe(0);
    const cells = readFileSync(join(folder, 'x', 'readings.csv'), 'utf8').trim().split('\n').slice(1).map((row) => row.split(',')); // prettier-ignore
    expect(cells.filter((row) => row[4] === '' || row[4] === 'overload')).toEqual(cells);
    const values = cells.filter((row) => row[4] === '').map((row) => Math.round(1000 * Number(row[2])));
    expect(values.length).toBeGreaterThan(2);
    for (const value of values) expect(value).not.toBe(2);
    expect(values.toSorted((a, b) => a - b)).toEqual(values);
  }, 30_000);

  it('marks once that a meter switches its unit, and records everything in the unit of its channel', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    let line = '1.000 inH2O';
    const printed = count(meter, 20, () => line);
    const recording = startCommand(
      ['record', '--instrument', `${meter.path}=${manometer}`, '--out', 'switch.zip'],
      folder,
    );
    await waitUntil('the recording', () => recording.err().includes('Recording '));
    const printMore = (lines: number) => {
      const before = printed.sent();
      return waitUntil(`${lines} lines`, () => printed.sent() >= before + lines);
    };
    await printMore(20);
    line = '2.490889 mbar';
    await printMore(40);
    recording.child.kill('SIGINT');
    expect((await recording.ended).status).toBe(0);
    expect((await runCommand(['convert', 'switch.zip', 'switch'], folder)).status).toBe(0);
    const marks = readFileSync(join(folder, 'switch', 'marks.csv'), 'utf8')
      .trim()
      .split('\n')
      .slice(1);
    expect(marks).toHaveLength(1);
    expect(marks[0]).toContain(`${meter.path} now prints mbar, converted to inH2O`);
    // NIST SP 811 (2008), B.8: 1 inH2O = 249.0889 Pa = 2.490889 mbar
    expect((await runCommand(['convert', 'switch.zip', 'switch.csv'], folder)).status).toBe(0);
    const values = column(readFileSync(join(folder, 'switch.csv'), 'utf8'), 'pilot_pressure_inH2O', 10_000);
    expect(new Set(values)).toEqual(new Set([10_000]));
  }, 30_000);

  it('records the meter that can be opened, and reports the other', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    count(meter, 20, String);
    const { status, err } = await runCommand(
      [
        'record',
        '--for',
        '400ms',
        '--instrument',
        `${meter.path}=${manometer}`,
        '--instrument',
        `${join(folder, 'nothing')}=${voltmeter}`,
      ],
      folder,
    );
    // Exit status 1: some input could not be used, the others were still done.
    expect(status).toBe(1);
    const [capture] = jsonLines((await runCommand(['captures', '--json'], folder)).out);
    expect(capture?.['lines']).toBeGreaterThan(0);
    expect(err).toContain(`Complete: ${String(capture?.['lines'])} lines, `);
    expect(err).toContain(`There is no port ${join(folder, 'nothing')}`);
  }, 30_000);

  it('reports at the end how long it recorded, not when the last line came', async () => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'a'));
    const recording = startCommand(['record', '--instrument', `${meter.path}=${manometer}`, '--for', '3s'], folder);
    await waitUntil('the recording', () => recording.err().includes('Recording '));
    meter.send('2.31\r\n');
    const { status, err } = await recording.ended;
    expect(status).toBe(0);
    // A busy machine may end it later, never earlier.
    const seconds = Number(/Complete: 1 lines?, 1 readings? in (\d+) s\.$/mu.exec(err)?.[1]);
    expect(seconds, err).toBeGreaterThanOrEqual(3);
  }, 30_000);

  it('continues while a cable is unplugged and marks the gap', async () => {
    const folder = testFolder();
    const { a, instruments } = await twoMeters(folder);
    const recording = startCommand(['record', ...instruments, '--out', 'gap.zip'], folder);
    await waitUntil('the recording', () => recording.err().includes('Recording '));
    a.unplug();
    await waitUntil('the loss to be reported', () => recording.err().includes(`Port ${a.path} was disconnected`));
    const back = await plugIn(a.path);
    count(back, 20, (n) => (5 + n / 1000).toFixed(3));
    await waitUntil('the return to be reported', () => recording.err().includes(`${a.path} is back`));
    recording.child.kill('SIGINT');
    expect((await recording.ended).status).toBe(0);
    expect((await runCommand(['convert', 'gap.zip', 'gap-folder'], folder)).status).toBe(0);
    const gaps = readFileSync(join(folder, 'gap-folder', 'marks.csv'), 'utf8').split('\n').filter((row) => row.includes(',gap,')); // prettier-ignore
    expect(gaps.map((row) => row.split(',gap,')[1]?.replace(/\d+\.\d s$/u, 'N s'))).toEqual([
      `${a.path} went away`,
      `${a.path} is back after N s`,
    ]);
  }, 30_000);

  it('records what a meter sends from when its port is open, though another meter is still missing', async () => {
    const folder = testFolder();
    const server = await serialServer();
    const recording = startCommand(
      [
        'record',
        '--allow-network',
        '--for',
        '2s',
        '--out',
        'all.csv',
        '--instrument',
        `${server.path}=${manometer}`,
        '--instrument',
        `${join(folder, 'nothing')}=${voltmeter}`,
      ],
      folder,
    );
    await waitUntil('the connection', () => server.sockets.length > 0);
    server.sockets[0]?.write('1.0\r\n1.1\r\n1.2\r\n1.3\r\n');
    expect((await recording.ended).status).toBe(1); // nothing came from the other
    const values = readFileSync(join(folder, 'all.csv'), 'utf8')
      .split(/\r?\n/u)
      .filter((row) => /^\d/u.test(row));
    // The first may be the rest of a line, and may be flagged for that.
    expect(values.map((row) => Number(row.split(',')[1])).slice(1)).toEqual([1.1, 1.2, 1.3]);
  }, 30_000);

  it('records nothing, and reports why, when no port can be opened', async () => {
    const folder = testFolder();
    const { status, out, err } = await runCommand(
      ['record', '--instrument', `${join(folder, 'nothing')}=${manometer}`, '--for', '1s'],
      folder,
    );
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(err).toContain(`There is no port ${join(folder, 'nothing')}`);
    expect(err).toContain('nothing was recorded');
    expect((await runCommand(['captures', '--json'], folder)).out).toBe('');
  }, 30_000);

  it('reports before it records that it could not write the export', async () => {
    const folder = testFolder();
    const { status, err } = await runCommand(
      ['record', '--instrument', `x=${manometer}`, '--out', 'no/such/folder/x.zip'],
      folder,
    );
    expect(status).toBe(1);
    expect(err).toContain('no/such/folder/x.zip could not be written: its folder does not exist.');
  });

  it.each([
    ['is cut off', '{ "name": ', 'it is no JSON: line 1, column 11: a value belongs there, but the file ends'],
    ['has an extra comma', '{\n  "name": "g",\n}', 'it is no JSON: line 3, column 1:'],
    ['is empty', '', 'it is empty'],
    ['is not UTF-8', Buffer.from('\uFEFF{"name": "g"}', 'utf16le'), 'it is not UTF-8 text'],
    [
      'has a unit that does not fit',
      '{"name":"g","line":{"format":"number"},"channels":[{"role":"flame_signal","unit":"Pa"}]}',
      'flame_signal cannot be in Pa',
    ],
    [
      'has a name that is taken',
      JSON.stringify({ name: manometer, line: { format: 'number' }, channels: [{ role: 'flame_signal', unit: 'V' }] }),
      'built-in',
    ],
  ])('refuses a profile file that %s', async (_what, text, says) => {
    const folder = testFolder();
    writeFileSync(join(folder, 'bad.json'), text);
    const { status, err } = await runCommand(['record', '--instrument', 'x=bad.json', '--for', '1s'], folder);
    expect(status).toBe(1);
    expect(err).toContain(says);
    expect(err).toMatch(/^pilot-bench: The profile ".*" cannot be used: .*\.$/mu);
  });

  it('reports that a profile is a folder', async () => {
    const folder = testFolder();
    mkdirSync(join(folder, 'gauge.json'));
    const { status, err } = await runCommand(['record', '--instrument', 'x=gauge.json', '--for', '1s'], folder);
    expect({ status, err }).toEqual({ status: 1, err: 'pilot-bench: gauge.json could not be read: it is a folder.\n' });
  });
});
