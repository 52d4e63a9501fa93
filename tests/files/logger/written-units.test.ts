import { describe, expect, it } from 'vitest';
import { readMapping } from '../../../shared/files/logger/read-mapping.ts';
import { readLoggerFile } from '../../../shared/files/logger/read-logger-file.ts';
import type { Role } from '../../../shared/model/reading.ts';
import { utf8 } from './manners.ts';

const usual = { pressure: 'Pressure [mbar]', flame: 'Flame [V]' };
const text = (heading: { pressure: string; flame: string }, unitLine?: string) => {
  const rows = ['0.0', '0.5', '1.0', '1.5'].map((t) => `${t};2.50;4.60`);
  return [`Time [s];${heading.pressure};${heading.flame}`, ...(unitLine ? [unitLine] : []), ...rows].join('\n');
};
const read = (file: string, map?: object) => {
  const mapping = map && readMapping({ file: 'map.json', text: JSON.stringify(map) });
  if (mapping && !mapping.ok) throw new Error(mapping.fault.message);
  return readLoggerFile({ file: 'f.txt', bytes: utf8(file), mapping: mapping?.value.mapping });
};
const said = (file: string): string => {
  const found = read(file);
  if (found.ok) throw new Error(`taken without being asked: ${found.value.logger?.taken}`);
  expect(found.fault.facts?.['key']).toBe('columns');
  return found.fault.message;
};
/** The two columns by a map that gives the unit of one of them. */
const mapOf = (heading: { pressure: string; flame: string }, role: Role, unit: string) => ({
  columns: [
    { column: heading.pressure, role: 'pilot_pressure', ...(role === 'pilot_pressure' && { unit }) },
    { column: heading.flame, role: 'flame_signal', ...(role === 'flame_signal' && { unit }) },
  ],
});

describe('two units in one heading', () => {
  it.each([
    [{ ...usual, pressure: 'Pressure mbar (inH2O)' }, 'pilot_pressure', ['mbar', 'inH2O']],
    [{ ...usual, pressure: 'Pressure in H2O [mbar]' }, 'pilot_pressure', ['in H2O', 'mbar']],
    [{ ...usual, pressure: 'Pressure inHg (mbar)' }, 'pilot_pressure', ['inHg', 'mbar']],
    [{ ...usual, pressure: 'Druck [Pa], mbar' }, 'pilot_pressure', ['Pa', 'mbar']],
    [{ ...usual, flame: 'Flame % of 5 V' }, 'flame_signal', ['%', 'V']],
    [{ ...usual, flame: 'Flame mV (uA)' }, 'flame_signal', ['mV', 'uA']],
  ] as const)('are asked, and either may be the answer: %j', (heading, role, units) => {
    const message = said(text(heading));
    for (const unit of units) expect(message).toContain(`"${unit}"`);
    for (const unit of units.filter((one) => one !== 'inHg'))
      expect(read(text(heading), mapOf(heading, role, unit)), unit).toMatchObject({ ok: true });
    // A third one contradicts the heading.
    const third = role === 'pilot_pressure' ? 'psi' : 'mA';
    expect(read(text(heading), mapOf(heading, role, third))).toMatchObject({ fault: { code: 'map-unclear' } });
  });

  it('and one above, another below: either may be the answer', () => {
    const file = text(usual, 's;Pa;V');
    expect(said(file)).toMatch(/"Pa".*"mbar"|"mbar".*"Pa"/u);
    for (const unit of ['Pa', 'mbar'])
      expect(read(file, mapOf(usual, 'pilot_pressure', unit))).toMatchObject({ ok: true });
  });

  it.each(['Pressure mbar [mbar]', 'Druck hPa (mbar)'])('but these are of one size: %s', (pressure) =>
    expect(read(text({ ...usual, pressure }))).toMatchObject({ ok: true }),
  );
});

describe('a unit that may be part of the name', () => {
  it('in the middle of it is asked, and named', () => {
    const heading = { ...usual, flame: 'UV flame mA 4-20' };
    expect(said(text(heading))).toMatch(/UV flame mA 4-20.*"mA"/u);
    expect(read(text(heading), mapOf(heading, 'flame_signal', 'mA'))).toMatchObject({ ok: true });
    expect(read(text(heading), mapOf(heading, 'flame_signal', 'V'))).toMatchObject({ ok: false });
  });

  it.each(['Flame UV', 'Flame (UV)', 'Flame [UV]'])('UV is the light of a flame, not microvolts: %s', (flame) =>
    expect(said(text({ ...usual, flame }))).toContain('unit'),
  );

  it.each(['UV flame [V]', 'Flame UV, V', 'UV flame signal mV'])('and beside a unit it is none: %s', (flame) =>
    expect(read(text({ ...usual, flame }))).toMatchObject({ ok: true }),
  );

  it.each(['Flame [uV]', 'Flame µV'])('while this is: %s', (flame) =>
    expect(read(text({ ...usual, flame }))).toMatchObject({ ok: true }),
  );
});

describe('a unit that is not read here', () => {
  it.each(['dBm', 'counts', 'inHg'])('is named, and no map makes another of it: %s', (unit) => {
    const heading =
      unit === 'inHg' ? { ...usual, pressure: `Pressure ${unit}` } : { ...usual, flame: `Flame signal ${unit}` };
    const [role, other] = unit === 'inHg' ? (['pilot_pressure', 'mbar'] as const) : (['flame_signal', 'V'] as const);
    expect(said(text(heading))).toContain(`has the unit "${unit}", which is not known here`);
    expect(read(text(heading), mapOf(heading, role, other))).toMatchObject({ ok: false });
  });

  it.each(['Pressure (gas)', 'Pressure, left'])('but words that are no unit leave it open: %s', (pressure) => {
    const heading = { ...usual, pressure };
    said(text(heading));
    expect(read(text(heading), mapOf(heading, 'pilot_pressure', 'mbar'))).toMatchObject({ ok: true });
  });
});

describe('a multiple of a unit', () => {
  it.each(['Pressure x10 mbar', 'Pressure [0.1 mbar]', 'Druck *100 [Pa]', 'Druck 10^-1 mbar', 'Pressure [1e-3 bar]'])(
    'is not read, and no map makes the plain unit of it: %s',
    (pressure) => {
      const heading = { ...usual, pressure };
      expect(said(text(heading))).toContain('which is not known here');
      const unit = pressure.includes('Pa') ? 'Pa' : 'mbar';
      expect(read(text(heading), mapOf(heading, 'pilot_pressure', unit))).toMatchObject({ ok: false });
    },
  );

  it.each(['Pressure 10 [mbar]', 'Pressure sensor 0-100 mbar', 'P10 mbar', 'Druck 2x [mbar]'])(
    'but a number of a sensor or a range is none: %s',
    (pressure) => expect(read(text({ ...usual, pressure }))).toMatchObject({ ok: true }),
  );
});

describe('an absolute pressure', () => {
  it.each([
    'Pressure mbar(a)',
    'Pressure [mbara]',
    'Druck abs. [mbar]',
    'Pressure psia',
    'Pressure [bar a]',
    'Pressure kPa (a)',
  ])('is not taken for the gauge pressure: %s', (pressure) =>
    expect(said(text({ ...usual, pressure }))).toContain('pressure of the air'),
  );

  it.each(['Gas pressure mbar', 'Pressure, Pa', 'Druck kPa'])('but these are gauge pressures: %s', (pressure) =>
    expect(read(text({ ...usual, pressure }))).toMatchObject({ ok: true }),
  );
});

describe('a statistic in place of a reading', () => {
  it.each([
    { ...usual, pressure: 'Pressure (max) inH2O' },
    { ...usual, pressure: 'Pressure avg [mbar]' },
    { ...usual, pressure: 'Druck Mittelwert [mbar]' },
    { ...usual, pressure: 'Druck Max. [mbar]' },
    { ...usual, pressure: 'PressureMin [mbar]' },
    { ...usual, pressure: 'Pression moyenne [mbar]' },
    { ...usual, pressure: 'Pilot pressure std [mbar]' },
    { ...usual, flame: 'Flame min V' },
    { ...usual, flame: 'Flame mean [V]' },
    { ...usual, flame: 'Flame_peak_V' },
  ])('is asked: %j', (heading) => {
    const message = said(text(heading));
    expect(message).toContain('minimum, maximum, mean');
    const map = {
      columns: [
        { column: heading.pressure, role: 'pilot_pressure' },
        { column: heading.flame, role: 'flame_signal' },
      ],
    };
    expect(read(text(heading), map)).toMatchObject({ ok: true });
  });

  it('and left out beside the reading itself', () => {
    const rows = ['0.0', '0.5', '1.0'].map((t) => `${t};2.50;2.60;4.60;4.50`);
    const found = read(['Time (min);Pressure [mbar];Pressure max [mbar];Flame [V];Flame min [V]', ...rows].join('\n'));
    if (!found.ok) throw new Error(found.fault.message);
    expect(new Set(found.value.capture.readings.map(({ value }) => value))).toEqual(new Set([2.5, 4.6]));
  });
});

it('a column may be named by its position, as where two have one name', () => {
  const rows = ['0.0', '0.5', '1.0'].map((t) => `${t};2.50;4.60`);
  const file = ['Time [s];Value;Value', ...rows].join('\n');
  const columns = [
    { column: 2, role: 'pilot_pressure', unit: 'mbar' },
    { column: 3, role: 'flame_signal', unit: 'V' },
  ];
  const found = read(file, { time: { column: 1 }, columns });
  if (!found.ok) throw new Error(found.fault.message);
  expect(found.value.capture.readings.slice(0, 2)).toMatchObject([
    { role: 'pilot_pressure', unit: 'mbar', value: 2.5 },
    { role: 'flame_signal', unit: 'V', value: 4.6 },
  ]);
  expect(read(file, { columns: [{ column: 4, role: 'pilot_pressure' }] })).toMatchObject({
    fault: { code: 'map-unclear' },
  });
});

it('times that the given format does not read, and another reads all, are no mere damage', () => {
  const times = ['03/04/2026 23:59:59', '03/13/2026 00:00:00', '03/14/2026 00:00:01'];
  const file = ['Time;Pressure [mbar];Flame [V]', ...times.map((t) => `${t};2.50;4.60`)].join('\n');
  expect(read(file, { time: { format: 'dd/MM/yyyy HH:mm:ss' } })).toMatchObject({
    fault: { code: 'map-unclear', facts: { key: 'time.format' } },
  });
  expect(read(file, { time: { format: 'MM/dd/yyyy HH:mm:ss' } })).toMatchObject({ ok: true });
});
