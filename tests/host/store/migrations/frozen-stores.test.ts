import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { migrations } from '../../../../electron/host/store/migrations/all.ts';
import { storeFile } from '../../../../electron/host/store/store-file.ts';
import type { Capture } from '../../../../shared/model/capture.ts';
import { testFolder } from '../../../helpers/test-folder.ts';
import { neverAborted, openTestHost, storedCapture, valueOf } from '../../test-host.ts';
import { frozenStore } from './frozen-store.ts';

/** The captures of the frozen stores, written by hand from their SQL; the meters depend on the version. */
const visit: Omit<Capture, 'meters'> & { status: string } = {
  id: 'visit-2025',
  status: 'complete',
  startedAt: '2025-11-24T09:44:26.120+01:00',
  technician: 'R. Odegaard',
  burner: { site: 'North mill', name: 'Boiler 2' },
  setup: { asLeftPressure: { value: 2.4, unit: 'inH2O' }, seed: 7 },
  lines: [
    { seq: 1, elapsedS: 0.125, port: '/dev/ttyUSB0', raw: '2.41 inH2O', encoding: 'utf8' },
    { seq: 2, elapsedS: 0.25, port: '/dev/ttyUSB1', raw: '4.60', encoding: 'utf8' },
    { seq: 3, elapsedS: 0.5, port: '/dev/ttyUSB0', raw: 'OL', encoding: 'utf8' },
  ],
  readings: [
    { role: 'pilot_pressure', unit: 'inH2O', elapsedS: 0.125, value: 2.41, raw: '2.41 inH2O', line: 1 },
    { role: 'flame_signal', unit: 'V', elapsedS: 0.25, value: 4.6, raw: '4.60', line: 2 },
    { role: 'pilot_pressure', unit: 'inH2O', elapsedS: 0.5, value: Number.NaN, flag: 'overload', raw: 'OL', line: 3 },
  ],
  marks: [
    { elapsedS: 1, kind: 'note', text: 'two\nlines, "quoted"; it\'s µA' },
    { elapsedS: 60, kind: 'trial-start', text: '2.40 inH2O, spark held back 5 s' },
    { elapsedS: 68, kind: 'trial-end', text: 'lit' },
    { elapsedS: 75.5, kind: 'as-left', text: '2.40 inH2O, 4.60 V' },
  ],
  trials: [
    { pressure: 2.4, unit: 'inH2O', sparkDelayS: 5, lit: true, timeToProveS: 6.5, elapsedS: 60 },
    { pressure: 600, unit: 'Pa', sparkDelayS: 0, lit: false },
  ],
  notes: [{ at: '2025-11-24T11:00:00+01:00', by: 'R. Odegaard', text: 'electrode replaced' }],
};
const gauge = { port: '/dev/ttyUSB0', profile: 'Manometer, one number a line', description: 'the blue one' };
const multimeter = { port: '/dev/ttyUSB1', profile: 'Multimeter, volts, one number a line' };

describe.each([1, 2, 3] as const)('a store of version %i', (version) => {
  it('is opened by this program, with everything that was in it', async () => {
    const folder = testFolder();
    const frozen = frozenStore(version);
    frozen.exec(`VACUUM INTO '${storeFile(folder)}'`);
    const { host } = await openTestHost(folder);

    const captures = valueOf(await host.handlers['captures.list']({}, neverAborted));
    expect(captures.map(({ id, status, lines, readings, trials }) => [id, status, lines, readings, trials])).toEqual([
      // Its process is gone: no process has a number above 4194304 (proc(5), pid_max).
      ['killed', 'interrupted', 1, 1, 0],
      ['csv-import', 'complete', 0, 2, 0],
      ['visit-2025', 'complete', 3, 3, 2],
    ]);
    const reads = version < 3 ? {} : { reads: { name: multimeter.profile, line: { format: 'number' } } };
    expect(storedCapture(folder, 'visit-2025')).toEqual({ ...visit, meters: [gauge, { ...multimeter, ...reads }] });
    expect(storedCapture(folder, 'csv-import')).toMatchObject({
      readings: [
        { role: 'flame_signal', unit: 'mV', value: 4600.5, raw: '4600,5' },
        { role: 'flame_signal', unit: 'mV', flag: 'unreadable', raw: 'Err' },
      ],
      notes: [{ at: '2025-11-25T10:05:00Z', text: 'from the logger' }],
    });
    // The bytes FF 00 C3 28 are no UTF-8, so each is one character.
    expect(storedCapture(folder, 'killed')).toMatchObject({
      interrupted: true,
      lines: [{ seq: 1, port: 'COM3', raw: '\u00ff\u0000\u00c3(', encoding: 'latin1' }],
      meters: version < 3 ? [{ profile: 'My gauge' }] : [{ profile: 'My gauge' }, { profile: 'My gauge' }],
    });
    expect(valueOf(await host.handlers['burners.list']({}, neverAborted))).toEqual([
      {
        id: 'burner-1',
        site: 'North mill',
        name: 'Boiler 2',
        serialNumber: 'A-77',
        setup: { minimumSignal: { value: 1.25, unit: 'V' }, purgeSeconds: 90 },
      },
    ]);
    const profiles = valueOf(await host.handlers['profiles.list']({}, neverAborted));
    expect(profiles.filter(({ builtIn }) => !builtIn)).toMatchObject([
      { profile: { name: 'My gauge', serial: { baudRate: 19_200 }, channels: [{ unit: 'mbar', scale: 0.5 }] } },
    ]);
  });
});

it('every migration has a test of its own', () => {
  const tests = readdirSync(import.meta.dirname).flatMap((file) => /^(\d{3}-.*)\.test\.ts$/u.exec(file)?.[1] ?? []);
  expect(tests.toSorted()).toEqual(migrations.map(({ name }) => name));
});
