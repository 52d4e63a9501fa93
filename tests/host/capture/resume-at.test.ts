import { expect, it } from 'vitest';
import { systemClock } from '../../../electron/host/clock.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { lineTexts, neverAborted, openTestHost, storedCapture, valueOf } from '../test-host.ts';

const year = 365.25 * 86_400;

it.each([
  ['56 years later', 56 * year, /after an unknown time, counted as 60 s: the computer's clock tells a pause of /u, 60],
  ['a week later', 7 * 86_400, /^recording resumed after 60\d{4}\.\d s$/u, 604_800],
  ['56 years before', -56 * year, /^recording resumed after 0\.0 s$/u, 0],
])(
  'a capture that is continued %s by the clock goes on at a time that can be',
  async (_when, jumpS, text, pauseS) => {
    const folder = testFolder();
    const first = await openTestHost(folder);
    const capture = await first.record();
    first.send('1.5\r\n');
    await waitUntil('the line', () => storedCapture(folder, capture).lines.length === 1);
    await first.host.close();

    const clock = { ...systemClock, wallMs: () => systemClock.wallMs() + jumpS * 1000 };
    const { host, send } = await openTestHost(folder, { clock });
    valueOf(await host.handlers['captures.continue']({ capture }, neverAborted));
    send('1.6\r\n');
    await waitUntil('the second line', () => storedCapture(folder, capture).lines.length === 2);
    valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
    const stored = storedCapture(folder, capture);
    expect(lineTexts(stored)).toEqual(['1.5', '1.6']);
    expect(stored.marks.map((mark) => mark.text)).toContainEqual(expect.stringMatching(text));
    const [before, after] = stored.lines.map(({ elapsedS }) => elapsedS);
    expect(after! - before!).toBeGreaterThanOrEqual(pauseS - 1);
    expect(after! - before!).toBeLessThan(pauseS + 60);
  },
  60_000,
);
