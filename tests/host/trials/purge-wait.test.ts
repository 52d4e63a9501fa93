import { describe, expect, it } from 'vitest';
import type { Setup } from '../../../shared/model/setup.ts';
import { valueOf } from '../test-host.ts';
import { codeOf, defaultPurgeS, record } from './by-hand.ts';

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
