import { describe, expect, it } from 'vitest';
import { testFolder } from '../../helpers/test-folder.ts';
import { storedCapture, valueOf } from '../test-host.ts';
import { codeOf, createClock, defaultPurgeS, openHost, record } from './by-hand.ts';

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
