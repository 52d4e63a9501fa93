import { describe, expect, it } from 'vitest';
import { writeDataPackage, writeZip } from '../../../shared/files/data-package.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { neverAborted, openTestHost, valueOf } from '../test-host.ts';

type Outcome = { ok: true } | { ok: false; fault: { code: string; facts?: Record<string, string | number> } };
const refusalOf = (outcome: Outcome) => (outcome.ok ? undefined : outcome.fault);

const openHost = async () => {
  const { host, record, send } = await openTestHost(testFolder());
  return { handlers: host.handlers, record, send };
};

/** A finished capture. */
async function completeCapture() {
  const opened = await openHost();
  const capture = await opened.record();
  valueOf(await opened.handlers['captures.finish']({ capture }, neverAborted));
  return { ...opened, capture };
}

describe('a recording', () => {
  it('is the only one of its host', async () => {
    const { handlers, record } = await openHost();
    const capture = await record();
    const again = await handlers['captures.start']({ setup: {} }, neverAborted);
    expect(refusalOf(again)).toMatchObject({ code: 'capture-recording' });
    expect(refusalOf(await handlers['captures.continue']({ capture }, neverAborted))).toMatchObject({
      code: 'capture-recording',
    });
    const captures = valueOf(await handlers['captures.list']({}, neverAborted));
    expect(captures.map(({ id, status }) => [id, status])).toEqual([[capture, 'recording']]);
  });

  it('needs a connected meter, to start and to continue', async () => {
    const folder = testFolder();
    const { host, record } = await openTestHost(folder);
    const capture = await record();
    await host.close();
    const next = await openTestHost(folder);
    const { handlers } = next.host;
    await handlers['meters.disconnect']({ port: 'gauge' }, neverAborted);
    expect(refusalOf(await handlers['captures.start']({ setup: {} }, neverAborted))).toMatchObject({
      code: 'no-meters',
    });
    // To continue, the capture's own meters are connected.
    valueOf(await handlers['captures.continue']({ capture }, neverAborted));
    valueOf(await handlers['captures.finish']({ capture }, neverAborted));
    expect(valueOf(await handlers['captures.list']({}, neverAborted))).toHaveLength(1);
  });

  it('that was imported is not recorded on, whatever meter it brings: nothing is opened, and nothing written', async () => {
    const { handlers } = await openHost();
    const line = { format: 'modbus-rtu', unitId: 1, function: 3, address: 0, type: 'int16' };
    const channels = [{ role: 'pilot_pressure', unit: 'Pa' }];
    const reads = { name: 'Foreign', mode: 'poll', poll: { everyMs: 20 }, line, channels };
    const capture: Capture = {
      id: 'from elsewhere',
      interrupted: true,
      meters: [{ port: '/dev/ttyUSB0', profile: 'Foreign', reads }],
      setup: {},
      readings: [{ role: 'flame_signal', unit: 'V', elapsedS: 0, value: 4.6, raw: '4.6' }],
      lines: [],
      marks: [],
      trials: [],
      notes: [],
    };
    const files = [{ name: 'visit.zip', bytes: writeZip(writeDataPackage(capture)) }];
    valueOf(await handlers['files.import']({ files }, neverAborted));
    await handlers['meters.disconnect']({ port: 'gauge' }, neverAborted);
    const continued = await handlers['captures.continue']({ capture: capture.id }, neverAborted);
    expect(refusalOf(continued)).toMatchObject({ code: 'capture-imported' });
    for await (const meters of handlers['meters.live']({}, AbortSignal.timeout(1000))) {
      expect(meters).toEqual([]);
      break;
    }
    expect(valueOf(await handlers['captures.get']({ capture: capture.id }, neverAborted)).status).toBe('interrupted');
  });

  it('is for marks: an interrupted capture gets none', async () => {
    const folder = testFolder();
    const { host, record } = await openTestHost(folder);
    const capture = await record();
    await host.close();
    const { handlers } = (await openTestHost(folder)).host;
    const marked = await handlers['captures.mark']({ capture, kind: 'note', text: 'too late' }, neverAborted);
    expect(refusalOf(marked)).toMatchObject({ code: 'not-recording' });
    const { marks } = valueOf(await handlers['captures.get']({ capture }, neverAborted));
    expect(marks.map(({ text }) => text)).not.toContain('too late');
  });

  it('has an end of a sweep only after its start, and as-found values only with a live pressure', async () => {
    const { handlers, record } = await openHost();
    const capture = await record();
    const mark = async (kind: 'sweep-start' | 'sweep-end' | 'as-found') =>
      refusalOf(await handlers['captures.mark']({ capture, kind, text: '' }, neverAborted))?.code ?? 'ok';
    expect(await mark('sweep-end')).toBe('sweep-missing');
    expect(await mark('sweep-start')).toBe('ok');
    expect(await mark('sweep-end')).toBe('ok');
    expect(await mark('sweep-end')).toBe('sweep-missing');
    expect(await mark('as-found')).toBe('no-live-pressure');
    const { marks } = valueOf(await handlers['captures.get']({ capture }, neverAborted));
    expect(marks.map(({ kind }) => kind)).toEqual(['sweep-start', 'sweep-end']);
  });
});

describe('a complete capture', () => {
  it('is not changed: only notes are added', async () => {
    const { handlers, capture } = await completeCapture();
    const { id: burnerId } = valueOf(
      await handlers['burners.save']({ site: 'North mill', name: 'Boiler 2', setup: {} }, neverAborted),
    );
    for (const outcome of [
      await handlers['captures.setup']({ capture, setup: { seed: 7 } }, neverAborted),
      await handlers['captures.burner']({ capture, burnerId }, neverAborted),
      await handlers['captures.mark']({ capture, kind: 'note', text: 'x' }, neverAborted),
      await handlers['captures.continue']({ capture }, neverAborted),
    ])
      expect(refusalOf(outcome)).toMatchObject({ code: 'capture-closed' });
    valueOf(await handlers['captures.note']({ capture, text: 'a note' }, neverAborted));
    const view = valueOf(await handlers['captures.get']({ capture }, neverAborted));
    expect(view).toMatchObject({ setup: {}, marks: [], notes: [{ text: 'a note' }] });
    expect(view.burnerId).toBeUndefined();
  });

  it('is found by the beginning of its id, unless another begins so', async () => {
    const { handlers } = await openHost();
    const base = { meters: [], setup: {}, lines: [], marks: [], trials: [], notes: [] };
    for (const id of ['visit-2025', 'visit-2026']) {
      const readings = [{ role: 'flame_signal' as const, unit: 'V' as const, elapsedS: 0, value: 4.6, raw: '4.6' }];
      const bytes = writeZip(writeDataPackage({ ...base, id, readings }));
      valueOf(await handlers['files.import']({ files: [{ name: `${id}.zip`, bytes }] }, neverAborted));
    }
    const get = (capture: string) => handlers['captures.get']({ capture }, neverAborted);
    expect(refusalOf(await get('visit-202'))).toMatchObject({
      code: 'capture-ambiguous',
      facts: { capture: 'visit-202' },
    });
    expect(refusalOf(await get('visit-2027'))).toMatchObject({ code: 'capture-missing' });
    expect(refusalOf(await get(''))).toMatchObject({ code: 'capture-missing' });
    expect(valueOf(await get('visit-2026')).id).toBe('visit-2026');
    // In the process of a job as well.
    const exported = await handlers['files.export']({ capture: 'visit-202', format: 'csv' }, neverAborted);
    expect(refusalOf(exported)).toMatchObject({ code: 'capture-ambiguous' });
  });
});

it('a burner that is not in the store is refused wherever it is named', async () => {
  const { handlers, record } = await openHost();
  const unknown = { site: 'North mill', name: 'Boiler 2', setup: {}, id: 'no such burner' };
  expect(refusalOf(await handlers['burners.save'](unknown, neverAborted))).toMatchObject({ code: 'burner-missing' });
  const started = await handlers['captures.start']({ setup: {}, burnerId: unknown.id }, neverAborted);
  expect(refusalOf(started)).toMatchObject({ code: 'burner-missing' });
  expect(valueOf(await handlers['captures.list']({}, neverAborted))).toEqual([]);
  const capture = await record();
  const assigned = await handlers['captures.burner']({ capture, burnerId: unknown.id }, neverAborted);
  expect(refusalOf(assigned)).toMatchObject({ code: 'burner-missing' });
  const files = [{ name: 'a.csv', bytes: new TextEncoder().encode('elapsed_s,flame_signal_V\n0,1\n') }];
  const imported = await handlers['files.import']({ files, burnerId: unknown.id }, neverAborted);
  expect(refusalOf(imported)).toMatchObject({ code: 'burner-missing' });
});

describe('a meter', () => {
  it('is not connected when another measures its channel, nor with an unknown profile', async () => {
    const { handlers } = await openHost();
    const connect = (port: string, profile: string) => handlers['meters.connect']({ port, profile }, neverAborted);
    expect(refusalOf(await connect('second gauge', 'Manometer, one number a line, Pa'))).toMatchObject({
      code: 'role-taken',
      facts: { role: 'pilot_pressure', port: 'gauge' },
    });
    expect(refusalOf(await connect('flame', 'No such profile'))).toMatchObject({ code: 'profile-missing' });
    valueOf(await connect('flame', 'Multimeter, volts, one number a line'));
    // On the port of the first, the other profile replaces it.
    valueOf(await connect('gauge', 'Manometer, one number a line, Pa'));
    for await (const meters of handlers['meters.live']({}, neverAborted)) {
      expect(meters.map(({ port, profile }) => [port, profile])).toEqual([
        ['flame', 'Multimeter, volts, one number a line'],
        ['gauge', 'Manometer, one number a line, Pa'],
      ]);
      break;
    }
  });

  it('has no profile that cannot be used, or that has the name of a built-in one', async () => {
    const { handlers } = await openHost();
    const profile = (name: string, pattern: string): Profile => ({
      name,
      serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
      mode: 'stream',
      line: { format: 'pattern', pattern },
      channels: [{ role: 'pilot_pressure', unit: 'Pa', scale: 1, offset: 0 }],
      overload: [],
    });
    const save = async (one: Profile) => refusalOf(await handlers['profiles.save']({ profile: one }, neverAborted));
    expect(await save(profile('mine', 'P=(?<flame_signal>\\d+)'))).toMatchObject({
      code: 'profile-invalid',
      facts: { profile: 'mine' },
    });
    expect(await save(profile('Manometer, one number a line', 'P=(?<pilot_pressure>\\d+)'))).toMatchObject({
      code: 'profile-invalid',
      facts: { problems: 'a built-in profile has this name; choose another' },
    });
    const profiles = valueOf(await handlers['profiles.list']({}, neverAborted));
    expect(profiles.filter(({ builtIn }) => !builtIn)).toEqual([]);
  });
});

describe('the practice bench', () => {
  it('does nothing in a host that has none', async () => {
    const { handlers } = await openHost();
    expect(refusalOf(await handlers['practice.act']({ turns: 2 }, neverAborted))).toMatchObject({
      code: 'practice-off',
    });
    const end = await handlers['practice.live']({}, neverAborted)[Symbol.asyncIterator]().next();
    expect(end).toMatchObject({ done: true, value: { code: 'practice-off' } });
  });

  it('has no scenario of an unknown name, and continues with the one before', async () => {
    const { host } = await openTestHost(testFolder(), { practice: true });
    const act = (scenario: string) => host.handlers['practice.act']({ scenario }, neverAborted);
    const scenario = async () => {
      for await (const state of host.handlers['practice.live']({}, neverAborted)) return state.scenario;
      throw new Error('practice.live gave nothing');
    };
    valueOf(await act('noisy'));
    expect(refusalOf(await act('no such burner'))).toMatchObject({
      code: 'scenario-missing',
      facts: { scenario: 'no such burner' },
    });
    expect(await scenario()).toBe('noisy');
  });
});
