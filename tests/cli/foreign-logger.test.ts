import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { callCommand } from '../helpers/call-command.ts';
import { runCommand } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';

const sample = join(import.meta.dirname, '..', '..', 'sample-captures', 'clean.csv');
/** 1 inH2O (conventional) in millibars: NIST SP 811, appendix B. */
const mbarPerInH2O = 2.490889;

/** The sample as another logger writes it: a line before the heading, semicolons, decimal commas, millibars. */
function foreignFile(): string {
  const [heading = '', ...rows] = readFileSync(sample, 'utf8')
    .trim()
    .split('\n')
    .filter((line) => !line.startsWith('#'));
  const columns = heading.trim().split(',');
  const [time, pressure, signal] = ['elapsed_s', 'pilot_pressure_inH2O', 'flame_signal_V'].map((name) =>
    columns.indexOf(name),
  );
  const cell = (text: string | undefined, factor = 1) => {
    const value = Number(text);
    if (text === undefined || text.trim() === '') return '';
    return (Number.isNaN(value) ? text : String(Number((value * factor).toFixed(5)))).replace('.', ',');
  };
  const lines = rows.map((row) => {
    const cells = row.trim().split(',');
    return [cell(cells[time!]), cell(cells[pressure!], mbarPerInH2O), cell(cells[signal!])].join(';');
  });
  return ['Messung Kessel 3', 'Zeit [s];Gasdruck [mbar];Flamme [V]', ...lines, ''].join('\r\n');
}

interface Analysis {
  window: Record<'low' | 'high', { value: number; ci: [number, number] }>;
}

describe('the file of another logger', () => {
  it('is refused without --map, with the hint to use it', async () => {
    const folder = testFolder();
    writeFileSync(join(folder, 'visit.csv'), foreignFile());
    const { status, err } = await callCommand(['analyze', 'visit.csv'], folder);
    expect(status).toBe(1);
    expect(err).toContain('--map auto');
  });

  it('gives the window of the capture that it was made from, and says what was taken', async () => {
    const folder = testFolder();
    writeFileSync(join(folder, 'visit.csv'), foreignFile());
    const plain = JSON.parse((await callCommand(['analyze', sample, '--json'], folder)).out) as Analysis;
    const { status, out, err } = await callCommand(['analyze', 'visit.csv', '--map', 'auto', '--json'], folder);
    expect({ status, err }).toMatchObject({ status: 0 });
    expect(err).toMatch(/Gasdruck.*mbar/u);
    const found = JSON.parse(out) as Analysis;
    for (const side of ['low', 'high'] as const) {
      const inH2O = found.window[side].value / mbarPerInH2O;
      expect(inH2O).toBeGreaterThan(plain.window[side].ci[0]);
      expect(inH2O).toBeLessThan(plain.window[side].ci[1]);
    }
  });

  it('is converted, compared, imported and reported', async () => {
    const folder = testFolder();
    writeFileSync(join(folder, 'visit.csv'), foreignFile());
    const map = ['--map', 'auto'];
    for (const args of [
      ['convert', 'visit.csv', 'visit.zip', ...map],
      ['compare', 'visit.csv', 'visit.csv', ...map],
      ['import', 'visit.csv', ...map],
      ['report', 'visit.csv', '--out', 'proof.html', ...map],
    ]) {
      const { status, err } = await callCommand(args, folder);
      expect({ args, status, err }).toMatchObject({ args, status: 0 });
    }
    for (const name of ['visit.zip', 'proof.html']) expect(existsSync(join(folder, name))).toBe(true);
  }, 60_000);

  it('is imported with the start that its dates give, in the time zone of this computer', async () => {
    const folder = testFolder();
    const rows = ['00', '01', '02', '03'].map((s) => `27.11.2026 09:30:${s},5;2,5;4,6`);
    writeFileSync(join(folder, 'visit.csv'), ['Zeit;Gasdruck [mbar];Flamme [V]', ...rows, ''].join('\n'));
    // POSIX: five hours west of UTC, without summer time.
    const { out, err } = await runCommand(['import', 'visit.csv', '--map', 'auto', '--json'], folder, { TZ: 'XXX5' });
    expect(JSON.parse(out)).toMatchObject({ added: true, startedAt: '2026-11-27T09:30:00.500-05:00' });
    expect(err).toContain('2026-11-27 09:30:00 (UTC-05:00), in the time zone of this computer');
  });

  it('is read as a file of --map says, where the file itself does not tell', async () => {
    const folder = testFolder();
    writeFileSync(
      join(folder, 'visit.csv'),
      foreignFile().replace('Gasdruck [mbar]', 'Kanal 1').replace('Flamme [V]', 'Kanal 2'),
    );
    const unclear = await callCommand(['analyze', 'visit.csv', '--map', 'auto'], folder);
    expect(unclear.status).toBe(1);
    const columns = [
      { column: 'Kanal 1', role: 'pilot_pressure', unit: 'mbar' },
      { column: 'Kanal 2', role: 'flame_signal', unit: 'V' },
    ];
    writeFileSync(join(folder, 'map.json'), JSON.stringify({ columns }));
    expect(await callCommand(['analyze', 'visit.csv', '--map', 'map.json'], folder)).toMatchObject({ status: 0 });
  });

  it.each([
    ['map-invalid', 'visit.csv', '{"columns": 7}'],
    ['map-invalid', 'visit.csv', 'no JSON'],
    ['logger-unreadable', 'broken.csv', '{}'],
  ])('is refused in words (%s)', async (code, file, map) => {
    const folder = testFolder();
    writeFileSync(join(folder, 'visit.csv'), foreignFile());
    writeFileSync(join(folder, 'broken.csv'), `Zeit;Druck\n1;${'9'.repeat(200_000)}\n`);
    writeFileSync(join(folder, 'map.json'), map);
    const { status, out } = await callCommand(['analyze', file, '--map', 'map.json', '--json'], folder);
    expect(status).toBe(1);
    expect(JSON.parse(out)).toMatchObject({ error: { code } });
  });
});
