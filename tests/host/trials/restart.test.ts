import { describe, expect, it } from 'vitest';
import { unjudgedTrials } from '../../../shared/model/trials/unjudged-trials.ts';
import { validTrials } from '../../../shared/model/trials/valid-trials.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { interruptAsOrphan, storedCapture, valueOf } from '../test-host.ts';
import { codeOf, defaultPurgeS, openHost, record } from './by-hand.ts';

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
    // Nobody has judged it: it is discarded with a reason, or its result is entered.
    expect(unjudgedTrials(view.marks, view.trials, true)).toEqual([{ fromS: 10, toS: 13 }]);
    const about = { pressure: 2.28, unit: 'inH2O', lit: false, elapsedS: 10, knownBy: 'hand', status: 'void' } as const;
    expect(codeOf(await next.page['trials.add']({ capture, trial: about }))).toBe('reason-missing');
    valueOf(await next.page['trials.add']({ capture, trial: { ...about, reason: 'the program was killed' } }));
    const after = await next.view();
    expect(unjudgedTrials(after.marks, after.trials, true)).toEqual([]);
    expect(validTrials(after.trials)).toEqual([]);
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
