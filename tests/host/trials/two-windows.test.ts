import { describe, expect, it } from 'vitest';
import { waitUntil } from '../../helpers/wait-until.ts';
import { storedCapture, valueOf } from '../test-host.ts';
import { codeOf, openDesktopWindow, record } from './by-hand.ts';

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

  it('that judge the same trial: the later answer is told what was taken, also when another trial runs', async () => {
    const { host, page, time, capture, folder, view, sendPressures } = await record();
    const other = openDesktopWindow(host);
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    const { startedS } = (await view()).runningTrial!;
    time.advance(4);
    valueOf(await other['trials.end']({ capture, lit: true, startedS }));
    const late = () => page['trials.end']({ capture, lit: false, startedS });
    expect(await late()).toMatchObject({
      fault: { code: 'trial-judged', message: expect.stringMatching(/in the record already, lit\./u) },
    });
    time.advance(100);
    await sendPressures('2.28');
    valueOf(await other['trials.begin']({ capture, sparkDelayS: 0 }));
    expect(codeOf(await late())).toBe('trial-judged');
    expect((await view()).runningTrial).toBeDefined();
    expect(storedCapture(folder, capture).trials).toHaveLength(1);
  });

  it('an answer on a trial that was canceled judges no later one, neither while that runs nor when it is over', async () => {
    const { host, page, time, capture, folder, view, sendPressures } = await record();
    const other = openDesktopWindow(host);
    valueOf(await page['trials.begin']({ capture, sparkDelayS: 0 }));
    const { startedS } = (await view()).runningTrial!;
    time.advance(4);
    valueOf(await other['trials.cancel']({ capture }));
    const late = async () => codeOf(await page['trials.end']({ capture, lit: false, startedS }));
    expect(await late()).toBe('trial-missing');
    time.advance(100);
    await sendPressures('2.28');
    valueOf(await other['trials.begin']({ capture, sparkDelayS: 0 }));
    expect(await late()).toBe('trial-missing');
    expect((await view()).runningTrial).toBeDefined();
    expect(storedCapture(folder, capture).trials).toEqual([]);
    valueOf(await other['trials.end']({ capture, lit: true, startedS: (await view()).runningTrial!.startedS }));
    expect(await late()).toBe('trial-missing');
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
