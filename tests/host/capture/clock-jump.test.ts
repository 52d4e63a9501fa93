import { expect, it } from 'vitest';
import { isoLocal } from '../../../electron/host/clock.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { wait, waitUntil } from '../../helpers/wait-until.ts';
import { openTestHost, storedCapture, lineTexts } from '../test-host.ts';

it.each([
  { jumpS: -3600, text: "the computer's clock was set back by 1 h 0 min; elapsed times are not affected" },
  {
    jumpS: 90,
    text: "the computer's clock jumped forward by 1 min 30 s: it was set, or the computer slept; elapsed times do not include the jump",
  },
])('a wall clock that jumps by $jumpS s changes no time of a recording and is noted on its time line', async (jump) => {
  const folder = testFolder();
  const startMs = Date.parse('2026-11-25T10:00:00Z');
  let offsetS = 0;
  const clock = {
    monotonicMs: () => performance.now(),
    wallMs: () => startMs + Math.round(performance.now()) + 1000 * offsetS,
  };
  const { send, record } = await openTestHost(folder, { clock });
  const startedMs = clock.wallMs();
  const id = await record();
  const sentAtS: number[] = [];
  const zero = performance.now();
  const sendNumber = (n: number) => {
    sentAtS.push((performance.now() - zero) / 1000);
    send(`${n}\r\n`);
  };
  sendNumber(1);
  // Less than two seconds does not count: time servers adjust by that much.
  offsetS = 1.5;
  sendNumber(2);
  await wait(1200);
  offsetS = jump.jumpS;
  sendNumber(3);
  await waitUntil('the mark', () => storedCapture(folder, id).marks.length > 0);
  sendNumber(4);
  await waitUntil('four lines', () => storedCapture(folder, id).lines.length === 4);
  const capture = storedCapture(folder, id);
  expect(lineTexts(capture)).toEqual(['1', '2', '3', '4']);
  expect(Math.abs(Date.parse(capture.startedAt ?? '') - startedMs)).toBeLessThan(1000);
  expect(capture.startedAt).toHaveLength(isoLocal(startedMs).length);
  capture.lines.forEach(({ elapsedS }, i) => expect(Math.abs(elapsedS - (sentAtS[i] ?? 0))).toBeLessThan(0.25));
  expect(capture.marks.map(({ kind, text }) => ({ kind, text }))).toEqual([{ kind: 'note', text: jump.text }]);
});
