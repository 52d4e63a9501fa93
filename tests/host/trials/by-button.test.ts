import { MessageChannel } from 'node:worker_threads';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { Host } from '../../../electron/host/host.ts';
import type { Api } from '../../../shared/contract/api.ts';
import { api } from '../../../shared/contract/api.ts';
import type { Client } from '../../../shared/contract/connect.ts';
import { connect } from '../../../shared/contract/connect.ts';
import type { PortLike } from '../../../shared/contract/port-channel.ts';
import { portChannel } from '../../../shared/contract/port-channel.ts';
import { serve } from '../../../shared/contract/serve.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { fillDisk, freeDisk } from '../store/fill-disk.ts';
import { refuseStatements } from '../store/refuse-statements.ts';
import { interruptAsOrphan, neverAborted, openTestHost, storedCapture, valueOf } from '../test-host.ts';

// The purge wait when the setup gives none, as the Burner form shows it; the burner maker's value replaces it.
const defaultPurgeS = 60;

/** A clock that the test advances; its wall time may be set apart. */
function createClock() {
  let nowMs = 5000;
  let wallOffsetMs = Date.parse('2026-11-25T10:00:00Z');
  return {
    clock: { monotonicMs: () => nowMs, wallMs: () => wallOffsetMs + nowMs },
    advance: (seconds: number) => void (nowMs += 1000 * seconds),
    setWallBack: (seconds: number) => void (wallOffsetMs -= 1000 * seconds),
  };
}
type TestClock = ReturnType<typeof createClock>;

/** The calls of one desktop window or browser tab: a client of its own over the contract, as the page has it. */
function openDesktopWindow(host: Host): Client<Api> {
  const { port1, port2 } = new MessageChannel();
  const [page, served] = [port1, port2].map((port) => portChannel(port as unknown as PortLike));
  serve(api, host.handlers, served!, (_name, error) => {
    throw error;
  });
  onTestFinished(() => page!.close());
  return connect(api, page!);
}

/** A host with a manometer, and one desktop window on it. */
async function openHost(folder: string, time: TestClock) {
  const { host, send } = await openTestHost(folder, { clock: time.clock });
  const page = openDesktopWindow(host);
  const linesShown = async () => {
    for await (const [meter] of host.handlers['meters.live']({}, neverAborted)) return meter?.lines ?? 0;
    throw new Error('meters.live gave nothing');
  };
  return {
    host,
    page,
    send,
    /** Sends pressures, inH2O, one second after the other; resolves when the last is shown. */
    async sendPressures(...pressures: (number | string)[]) {
      const before = await linesShown();
      for (const [i, pressure] of pressures.entries()) {
        if (i > 0) time.advance(1);
        send(`${pressure}\r\n`);
      }
      for (let shown = await linesShown(); shown < before + pressures.length; shown = await linesShown())
        await new Promise((resolve) => {
          setTimeout(resolve, 10);
        });
    },
  };
}

/** A recording with a manometer that shows 2.28 inH2O. */
async function record(setup: Setup = {}) {
  const folder = testFolder();
  const time = createClock();
  const opened = await openHost(folder, time);
  const { capture } = valueOf(await opened.page['captures.start']({ setup }));
  time.advance(10);
  await opened.sendPressures('2.28');
  const view = async () => valueOf(await opened.page['captures.get']({ capture }));
  return { ...opened, folder, time, capture, view };
}

const codeOf = (outcome: { ok: boolean; fault?: { code: string } }) =>
  outcome.ok ? 'ok' : (outcome.fault?.code ?? 'no fault');

describe('a light-off trial', () => {
  it('begins at the mean pressure of the last second, and is shown while it runs', async () => {
    const { page, sendPressures, capture, view } = await record();
    // 9.00 is three seconds old by then, 2.20 and 2.30 at most one: (2.20 + 2.30) / 2 = 2.25.
    await sendPressures('9.00', '5.00', '2.20', '2.30');
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    const { runningTrial, marks, trials } = await view();
    expect(runningTrial).toMatchObject({ startedS: 13, sparkDelayS: 0, unit: 'inH2O' });
    expect(runningTrial?.pressure).toBeCloseTo(2.25, 9);
    expect(marks).toEqual([{ elapsedS: 13, kind: 'trial-start', text: '2.25 inH2O' }]);
    expect(trials).toEqual([]);
  });

  it('is stored when it ends, with its start, delay, result and time to prove; the purge wait begins at its end', async () => {
    const { page, time, capture, view, folder } = await record();
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 5 }));
    time.advance(8);
    valueOf(await page['trials.end']({ capture, lit: true, timeToProveS: 6.5 }));
    const { runningTrial, purgeUntilS, marks } = await view();
    expect(runningTrial).toBeUndefined();
    expect(purgeUntilS).toBe(18 + defaultPurgeS);
    expect(marks).toEqual([
      { elapsedS: 10, kind: 'trial-start', text: '2.28 inH2O, delayed spark, 5 s' },
      { elapsedS: 18, kind: 'trial-end', text: 'lit' },
    ]);
    expect(storedCapture(folder, capture).trials).toEqual([
      { pressure: 2.28, unit: 'inH2O', sparkDelayS: 5, lit: true, timeToProveS: 6.5, elapsedS: 10, knownBy: 'hand' },
    ]);
  });

  it('that did not light is stored at the pressure that the technician read while the gas flowed', async () => {
    const { page, time, capture, view, folder } = await record();
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    time.advance(10);
    valueOf(await page['trials.end']({ capture, lit: false, pressure: 3.4 }));
    expect((await view()).marks.at(-1)).toEqual({ elapsedS: 20, kind: 'trial-end', text: 'not lit' });
    expect(storedCapture(folder, capture).trials).toEqual([
      { pressure: 3.4, unit: 'inH2O', sparkDelayS: 0, lit: false, elapsedS: 10, knownBy: 'hand' },
    ]);
  });

  it('that is cancelled is not stored, and the purge wait begins all the same', async () => {
    const { page, time, capture, view, sendPressures } = await record();
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    time.advance(3);
    valueOf(await page['trials.cancel']({ capture }));
    expect(await view()).toMatchObject({
      trials: [],
      purgeUntilS: 13 + defaultPurgeS,
      marks: [{ kind: 'trial-start' }, { elapsedS: 13, kind: 'trial-end', text: 'cancelled' }],
    });
    expect((await view()).runningTrial).toBeUndefined();
    await sendPressures('2.28');
    expect(codeOf(await page['trials.begin']({ capture, sparkDelayS: 0 }))).toBe('purge-wait');
  });

  it('is the only one, must have begun to end, and keeps the capture from being finished', async () => {
    const { page, capture, view } = await record();
    expect(codeOf(await page['trials.end']({ capture, lit: true }))).toBe('trial-missing');
    expect(codeOf(await page['trials.cancel']({ capture }))).toBe('trial-missing');
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    expect(codeOf(await page['trials.begin']({ capture, sparkDelayS: 0 }))).toBe('trial-running');
    expect(codeOf(await page['captures.finish']({ capture }))).toBe('trial-running');
    expect((await view()).runningTrial).toMatchObject({ startedS: 10 });
    valueOf(await page['trials.end']({ capture, lit: true }));
    valueOf(await page['captures.finish']({ capture }));
    expect(await view()).toMatchObject({ status: 'complete', trials: [{ lit: true }] });
  });

  it('does not begin without a live pressure: none yet, an overload, or one that is too old', async () => {
    const folder = testFolder();
    const time = createClock();
    const { page, sendPressures } = await openHost(folder, time);
    const { capture } = valueOf(await page['captures.start']({ setup: {} }));
    const begin = async () => codeOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    expect(await begin()).toBe('no-live-pressure');
    await sendPressures('OL');
    expect(await begin()).toBe('no-live-pressure');
    await sendPressures('2.28');
    // The slowest meters send every two seconds: after more than three, a reading is not live.
    time.advance(3.1);
    expect(await begin()).toBe('no-live-pressure');
    await sendPressures('2.28');
    expect(await begin()).toBe('ok');
  });

  it('belongs to the capture that is being recorded', async () => {
    const { page, capture } = await record();
    expect(codeOf(await page['trials.begin']({ capture: 'no such capture', sparkDelayS: 0 }))).toBe('capture-missing');
    valueOf(await page['captures.finish']({ capture }));
    for (const outcome of [
      await page['trials.begin']({ capture, sparkDelayS: 0 }),
      await page['trials.end']({ capture, lit: true }),
      await page['trials.cancel']({ capture }),
    ])
      expect(codeOf(outcome)).toBe('capture-closed');
  });

  it.each([-1, 60.5, Number.NaN])('has no spark delay of %d s', async (sparkDelayS) => {
    const { page, capture, view } = await record();
    expect(codeOf(await page['trials.begin']({ capture, sparkDelayS }))).toBe('input-invalid');
    expect((await view()).runningTrial).toBeUndefined();
  });
});

describe('the purge wait', () => {
  /** A recording in which a trial has ended at 12 s. */
  async function afterTrial(setup: Setup) {
    const recording = await record(setup);
    const { page, time, capture, sendPressures } = recording;
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    time.advance(2);
    valueOf(await page['trials.end']({ capture, lit: true }));
    /** Tries to begin a trial `seconds` later. */
    const beginAfter = async (seconds: number) => {
      time.advance(seconds);
      await sendPressures('2.28');
      return page['trials.begin']({ capture, sparkDelayS: 0 });
    };
    return { ...recording, beginAfter };
  }

  it.each([
    ['the default', {}, defaultPurgeS],
    ['that of the setup', { purgeSeconds: 90 }, 90],
  ])(
    'is %s: no trial begins before it is over, and the refusal gives the remaining seconds',
    async (_which, setup, purgeS) => {
      const { beginAfter, view } = await afterTrial(setup);
      expect((await view()).purgeUntilS).toBe(12 + purgeS);
      const refusal = (remaining: number) => ({
        ok: false,
        fault: { code: 'purge-wait', facts: { seconds: remaining } },
      });
      expect(await beginAfter(0)).toMatchObject(refusal(purgeS));
      // 10.5 s later 49.5 s (79.5 s) are left, which is rounded up.
      expect(await beginAfter(10.5)).toMatchObject(refusal(purgeS - 10));
      expect(await beginAfter(purgeS - 10.5 - 0.25)).toMatchObject(refusal(1));
      expect((await view()).runningTrial).toBeUndefined();
      expect(await beginAfter(0.25)).toMatchObject({ ok: true });
      expect((await view()).runningTrial).toMatchObject({ startedS: 12 + purgeS });
    },
  );

  it('is as long as the setup says now, when that is changed during the wait', async () => {
    const { page, capture, beginAfter, view } = await afterTrial({ purgeSeconds: 30 });
    valueOf(await page['captures.setup']({ capture, setup: { purgeSeconds: 120 } }));
    expect((await view()).purgeUntilS).toBe(132);
    expect(await beginAfter(31)).toMatchObject({ fault: { code: 'purge-wait', facts: { seconds: 89 } } });
  });

  it('counts from the last trial', async () => {
    const { page, capture, time, beginAfter, view } = await afterTrial({});
    valueOf(await beginAfter(defaultPurgeS));
    time.advance(4);
    valueOf(await page['trials.end']({ capture, lit: false }));
    expect((await view()).purgeUntilS).toBe(12 + defaultPurgeS + 4 + defaultPurgeS);
    expect(codeOf(await beginAfter(defaultPurgeS - 1))).toBe('purge-wait');
    expect(codeOf(await beginAfter(1))).toBe('ok');
  });

  it('is not part of a capture that has had no trial', async () => {
    const { view } = await record();
    expect((await view()).purgeUntilS).toBeUndefined();
  });
});

describe('a trial, when the store refuses', () => {
  it('its result stays running, and can be ended once the store accepts it: stored once', async () => {
    const { page, time, capture, view, folder } = await record();
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    time.advance(8);
    const refusing = refuseStatements('INSERT INTO trial');
    expect(codeOf(await page['trials.end']({ capture, lit: true, timeToProveS: 2 }))).toBe('store-unavailable');
    expect(await view()).toMatchObject({ runningTrial: { startedS: 10 }, trials: [] });
    expect((await view()).purgeUntilS).toBeUndefined();
    refusing.stop();
    time.advance(1);
    valueOf(await page['trials.end']({ capture, lit: true, timeToProveS: 2 }));
    expect(await view()).toMatchObject({ purgeUntilS: 19 + defaultPurgeS });
    expect(storedCapture(folder, capture).trials).toEqual([
      { pressure: 2.28, unit: 'inH2O', sparkDelayS: 0, lit: true, timeToProveS: 2, elapsedS: 10, knownBy: 'hand' },
    ]);
  });

  it('its result can be cancelled instead', async () => {
    const { page, capture, view } = await record();
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    refuseStatements('INSERT INTO trial');
    expect(codeOf(await page['trials.end']({ capture, lit: true }))).toBe('store-unavailable');
    valueOf(await page['trials.cancel']({ capture }));
    expect(await view()).toMatchObject({ trials: [], purgeUntilS: 10 + defaultPurgeS });
  });

  it('lines on a full disk, begins and ends all the same; its marks are stored in order once there is space', async () => {
    const { page, send, time, capture, view, folder } = await record();
    onTestFinished(freeDisk);
    fillDisk();
    // More than the last page of the store has space for.
    send('2.28\r\n'.repeat(3000));
    await waitUntil('the refusal', async () => codeOf(await page['captures.finish']({ capture })) === 'store-full');
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    expect(await view()).toMatchObject({ runningTrial: { startedS: 10 }, marks: [] });
    time.advance(2);
    valueOf(await page['trials.end']({ capture, lit: true }));
    // The mark of its end is only in memory: the purge wait counts from it all the same.
    expect((await view()).purgeUntilS).toBe(12 + defaultPurgeS);
    expect(codeOf(await page['trials.begin']({ capture, sparkDelayS: 0 }))).toBe('purge-wait');
    freeDisk();
    await waitUntil('the marks', () => storedCapture(folder, capture).marks.length === 2);
    expect(storedCapture(folder, capture)).toMatchObject({
      marks: [
        { elapsedS: 10, kind: 'trial-start' },
        { elapsedS: 12, kind: 'trial-end', text: 'lit' },
      ],
      trials: [{ lit: true, elapsedS: 10 }],
    });
    expect((await view()).purgeUntilS).toBe(12 + defaultPurgeS);
  });

  it('to read its marks, does not begin: whether the purge is over is not known', async () => {
    const { page, capture, view } = await record();
    const refusing = refuseStatements('FROM mark');
    expect(codeOf(await page['trials.begin']({ capture, sparkDelayS: 0 }))).toBe('store-unavailable');
    refusing.stop();
    expect((await view()).runningTrial).toBeUndefined();
  });
});

describe('after a restart', () => {
  /** Closes the host during or after a trial and continues its capture in a new one, `pauseS` later by the wall clock. */
  async function restart({ folder, host, time, capture }: Awaited<ReturnType<typeof record>>, pauseS: number) {
    await host.close();
    time.advance(pauseS);
    const next = await openHost(folder, time);
    valueOf(await next.page['captures.continue']({ capture }));
    await next.sendPressures('2.28');
    return { ...next, view: async () => valueOf(await next.page['captures.get']({ capture })) };
  }

  it('the purge wait continues: the time in between counts, and no second more', async () => {
    const recording = await record();
    const { page, time, capture } = recording;
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    time.advance(2);
    valueOf(await page['trials.end']({ capture, lit: true }));
    const next = await restart(recording, 20);
    expect((await next.view()).purgeUntilS).toBe(12 + defaultPurgeS);
    expect(await next.page['trials.begin']({ capture, sparkDelayS: 0 })).toMatchObject({
      fault: { code: 'purge-wait', facts: { seconds: defaultPurgeS - 20 } },
    });
    time.advance(defaultPurgeS - 20);
    await next.sendPressures('2.28');
    expect(codeOf(await next.page['trials.begin']({ capture, sparkDelayS: 0 }))).toBe('ok');
  });

  it('the purge wait is not shortened by a wall clock that was set', async () => {
    const recording = await record();
    const { page, time, capture } = recording;
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    time.advance(2);
    valueOf(await page['trials.end']({ capture, lit: true }));
    time.setWallBack(3600);
    const next = await restart(recording, 20);
    // The pause cannot be known then: the wait begins where the recording stopped.
    expect(await next.page['trials.begin']({ capture, sparkDelayS: 0 })).toMatchObject({
      fault: { code: 'purge-wait', facts: { seconds: defaultPurgeS } },
    });
  });

  it('a trial that was running is over without a result, and its purge wait has begun', async () => {
    const recording = await record();
    const { page, time, capture } = recording;
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    time.advance(3);
    const next = await restart(recording, 5);
    const view = await next.view();
    expect(view.runningTrial).toBeUndefined();
    expect(view.trials).toEqual([]);
    expect(view.marks.filter(({ kind }) => kind === 'trial-end')).toEqual([
      { elapsedS: 13, kind: 'trial-end', text: 'recording was interrupted' },
    ]);
    expect(view.purgeUntilS).toBe(13 + defaultPurgeS);
    expect(codeOf(await next.page['trials.end']({ capture, lit: true }))).toBe('trial-missing');
    expect(codeOf(await next.page['trials.begin']({ capture, sparkDelayS: 0 }))).toBe('purge-wait');
  });

  it('a trial that a kill left running is over as well', async () => {
    const recording = await record();
    const { folder, page, time, capture, view } = recording;
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    await waitUntil('the mark', () => storedCapture(folder, capture).marks.length === 1);
    const { durationS } = await view();
    interruptAsOrphan(folder, capture);
    time.advance(5);
    const next = await openHost(folder, time);
    valueOf(await next.page['captures.continue']({ capture }));
    await next.sendPressures('2.28');
    const found = valueOf(await next.page['captures.get']({ capture }));
    expect(found.marks.filter(({ kind }) => kind === 'trial-end')).toEqual([
      { elapsedS: durationS, kind: 'trial-end', text: 'recording was interrupted' },
    ]);
    expect(found.purgeUntilS).toBe(durationS + defaultPurgeS);
    expect(codeOf(await next.page['trials.begin']({ capture, sparkDelayS: 0 }))).toBe('purge-wait');
  });
});

describe('two desktop windows', () => {
  it('show and control the same trial: one begins it, the other ends it', async () => {
    const { host, page, time, capture, folder } = await record();
    const other = openDesktopWindow(host);
    const running: (number | undefined)[] = [];
    const stop = other['captures.live']({ capture }, ({ runningTrial }) => {
      if (runningTrial?.startedS !== running.at(-1)) running.push(runningTrial?.startedS);
    });
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    await waitUntil('the trial in the other desktop window', () => running.at(-1) === 10);
    expect(codeOf(await other['trials.begin']({ capture, sparkDelayS: 0 }))).toBe('trial-running');
    time.advance(4);
    valueOf(await other['trials.end']({ capture, lit: true }));
    await waitUntil('the end in the other desktop window', () => running.at(-1) === undefined);
    stop();
    expect(codeOf(await page['trials.end']({ capture, lit: false }))).toBe('trial-missing');
    expect(codeOf(await page['trials.cancel']({ capture }))).toBe('trial-missing');
    expect(storedCapture(folder, capture).trials).toMatchObject([{ lit: true }]);
    expect(await page['trials.begin']({ capture, sparkDelayS: 0 })).toMatchObject({ fault: { code: 'purge-wait' } });
    expect(await other['trials.begin']({ capture, sparkDelayS: 0 })).toMatchObject({ fault: { code: 'purge-wait' } });
  });

  it('that begin a trial at the same time begin one', async () => {
    const { host, page, capture, view } = await record();
    const other = openDesktopWindow(host);
    const outcomes = await Promise.all([
      page['trials.begin']({ capture, sparkDelayS: 0 }),
      other['trials.begin']({ capture, sparkDelayS: 5 }),
    ]);
    expect(outcomes.map(codeOf).toSorted()).toEqual(['ok', 'trial-running']);
    expect((await view()).marks.filter(({ kind }) => kind === 'trial-start')).toHaveLength(1);
  });

  it('that end a trial at the same time store one result', async () => {
    const { host, page, capture, folder } = await record();
    const other = openDesktopWindow(host);
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    const outcomes = await Promise.all([
      page['trials.end']({ capture, lit: true }),
      other['trials.end']({ capture, lit: false }),
    ]);
    expect(outcomes.map(codeOf).toSorted()).toEqual(['ok', 'trial-missing']);
    expect(storedCapture(folder, capture).trials).toHaveLength(1);
  });
});
