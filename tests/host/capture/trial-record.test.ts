import { describe, expect, it } from 'vitest';
import { api } from '../../../shared/contract/api.ts';
import type { StoredTrial } from '../../../shared/contract/api.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { neverAborted, openTestHost, storedCapture, valueOf } from '../test-host.ts';

/** A recording with two trials in it, and the calls on its record. */
async function openRecord() {
  const folder = testFolder();
  const { host, send, record } = await openTestHost(folder);
  const capture = await record();
  send('2.4\r\n');
  const { handlers } = host;
  const add = (trial: Omit<StoredTrial, 'id' | 'knownBy'> & { knownBy?: 'meters' | 'hand' }) =>
    handlers['trials.add']({ capture, trial: { knownBy: 'hand', ...trial } }, neverAborted);
  const first = valueOf(
    await add({
      ...at,
      lit: true,
      sparkDelayS: 0,
      timeToProveS: 1.5,
      timeToProveFromSparkS: 1.5,
      purgeS: 62,
      purgeBy: 'air',
      note: 'calm',
      knownBy: 'meters',
    }),
  ).trial;
  const second = valueOf(await add({ ...at, lit: false })).trial;
  return {
    capture,
    handlers,
    add,
    first,
    second,
    correct: (
      trial: number,
      changes: Parameters<(typeof handlers)['trials.correct']>[0]['changes'],
      reason = 'misread',
    ) => handlers['trials.correct']({ capture, trial, changes, reason }, neverAborted),
    discard: (trial: number, reason = 'valve was shut') =>
      handlers['trials.void']({ capture, trial, reason }, neverAborted),
    finish: async () => valueOf(await handlers['captures.finish']({ capture }, neverAborted)),
    view: async () => valueOf(await handlers['captures.get']({ capture }, neverAborted)),
    stored: () => storedCapture(folder, capture).trials,
  };
}

const at = { pressure: 2.4, unit: 'inH2O', elapsedS: 30 } as const;
const code = (outcome: { ok: boolean; fault?: { code: string } }) => outcome.fault?.code;

describe('the record of light-off trials', () => {
  it('takes a correction as a new entry that names the one it corrects, which stays as it was', async () => {
    const { stored, correct, second, view } = await openRecord();
    const before = stored();
    valueOf(await correct(second, { lit: true, timeToProveS: 2 }, 'the display showed 5 V'));
    expect(stored()).toEqual([
      ...before,
      {
        ...at,
        lit: true,
        timeToProveS: 2,
        knownBy: 'corrected',
        corrects: 2,
        reason: 'the display showed 5 V',
      },
    ]);
    const { trials } = await view();
    expect(trials).toHaveLength(3);
  });

  it('takes away what is not known after all, and times to prove that the change makes wrong', async () => {
    const { stored, correct, first } = await openRecord();
    const facts = { ...at, lit: true, timeToProveS: 1.5, purgeS: 62, purgeBy: 'air', note: 'calm' };
    const { trial } = valueOf(await correct(first, { sparkDelayS: null }));
    expect(stored()[2]).toEqual({ ...facts, knownBy: 'corrected', corrects: 1, reason: 'misread' });
    const { timeToProveS: _time, ...unlit } = facts;
    valueOf(await correct(trial, { lit: false }));
    expect(stored()[3]).toEqual({ ...unlit, lit: false, knownBy: 'corrected', corrects: 3, reason: 'misread' });
  });

  it('takes a discarded trial off the count with its reason, and back when that entry is corrected', async () => {
    const { stored, discard, correct, second, handlers } = await openRecord();
    const counted = async () => valueOf(await handlers['captures.list']({}, neverAborted))[0]!.trials;
    expect(await counted()).toBe(2);
    const { trial } = valueOf(await discard(second, 'valve was shut'));
    expect(stored()[2]).toEqual({ ...stored()[1], status: 'void', corrects: 2, reason: 'valve was shut' });
    expect(await counted()).toBe(1);
    expect(code(await discard(trial))).toBe('trial-void');
    valueOf(await correct(trial, { pressure: 2.5 }));
    expect(stored()[3]).toEqual({
      ...at,
      pressure: 2.5,
      lit: false,
      knownBy: 'corrected',
      corrects: 3,
      reason: 'misread',
    });
    expect(await counted()).toBe(2);
  });

  it('refuses to correct an entry that another window corrected meanwhile, and one of another capture', async () => {
    const { correct, discard, first, stored } = await openRecord();
    valueOf(await correct(first, { pressure: 2.5 }));
    const before = stored();
    expect(code(await correct(first, { pressure: 2.6 }))).toBe('trial-replaced');
    expect(code(await discard(first))).toBe('trial-replaced');
    expect(code(await correct(999, { pressure: 2.6 }))).toBe('trial-unknown');
    expect(stored()).toEqual(before);
  });

  it('is corrected and added to when the capture is complete as well; then a new trial needs a reason', async () => {
    const { add, correct, discard, first, second, finish, stored } = await openRecord();
    await finish();
    const before = stored();
    valueOf(await correct(first, { pressure: 2.5 }));
    valueOf(await discard(second));
    expect(code(await add({ ...at, lit: true }))).toBe('reason-missing');
    valueOf(await add({ ...at, lit: true, reason: 'from the paper record' }));
    expect(stored().slice(0, 2)).toEqual(before);
    expect(
      stored()
        .slice(2)
        .map(({ corrects, reason }) => [corrects, reason]),
    ).toEqual([
      [1, 'misread'],
      [2, 'valve was shut'],
      [undefined, 'from the paper record'],
    ]);
  });

  it('keeps that a trial ended by the button is known by hand, and nothing of one that was cancelled', async () => {
    const { capture, handlers, stored } = await openRecord();
    const setup = { purgeSeconds: 0.01 };
    valueOf(await handlers['captures.setup']({ capture, setup }, neverAborted));
    // Until the pressure is live, and the purge of a hundredth of a second is over.
    const begin = () => handlers['trials.begin']({ capture, sparkDelayS: 0 }, neverAborted);
    await expect.poll(begin, { timeout: 2000 }).toMatchObject({ ok: true });
    valueOf(await handlers['trials.end']({ capture, lit: true }, neverAborted));
    expect(stored()[2]).toMatchObject({ pressure: 2.4, sparkDelayS: 0, lit: true, knownBy: 'hand' });
    await expect.poll(begin, { timeout: 2000 }).toMatchObject({ ok: true });
    valueOf(await handlers['trials.cancel']({ capture }, neverAborted));
    expect(stored()).toHaveLength(3);
  });
});

describe('what a correction may say', () => {
  const input = { capture: 'c', trial: 1, changes: { lit: true }, reason: 'misread' };
  const refused = (changed: object) => !api['trials.correct'].input.safeParse({ ...input, ...changed }).success;

  it('has a reason and a change, and cannot leave out what a trial must have', () => {
    expect(refused({})).toBe(false);
    expect(refused({ reason: ' \r\n' })).toBe(true);
    expect(refused({ changes: {} })).toBe(true);
    expect(refused({ changes: { pressure: null } })).toBe(true);
    expect(refused({ changes: { sparkDelayS: -1 } })).toBe(true);
    expect(refused({ changes: { sparkDelayS: null } })).toBe(false);
  });

  it('has its line breaks as LF', () => {
    expect(api['trials.correct'].input.parse({ ...input, reason: ' a\r\nb\rc ' }).reason).toBe('a\nb\nc');
  });
});
