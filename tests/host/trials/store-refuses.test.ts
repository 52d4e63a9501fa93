import { describe, expect, it, onTestFinished } from 'vitest';
import { waitUntil } from '../../helpers/wait-until.ts';
import { fillDisk, freeDisk } from '../store/fill-disk.ts';
import { refuseStatements } from '../store/refuse-statements.ts';
import { storedCapture, valueOf } from '../test-host.ts';
import { codeOf, defaultPurgeS, record } from './by-hand.ts';

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
