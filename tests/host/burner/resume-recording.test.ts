import { expect, it } from 'vitest';
import { waitUntil } from '../../helpers/wait-until.ts';
import { interruptAsOrphan, neverAborted } from '../test-host.ts';
import { burning, openStory, setup, shut, unlit } from '../trials/burner-story.ts';

/** Tells a story, kills the recording, and goes on with it `pauseS` later in another host, with what both meters show then for 3 s. */
async function killAfter(
  tell: (story: Awaited<ReturnType<typeof openStory>>) => Promise<void>,
  then: typeof shut,
  pauseS = 30,
) {
  const before = await openStory({ setup });
  await tell(before);
  const endS = before.elapsedS();
  const capture = before.capture();
  const { folder } = before;
  interruptAsOrphan(folder, capture);
  const next = await openStory({ setup, folder, records: false, atS: 1 + endS + pauseS });
  await next.run(3, then);
  await next.resume(capture);
  await next.run(3, then);
  await waitUntil('what was before', async () => ((await next.stretches())[0]?.fromS ?? Infinity) < 5);
  return { ...next, endS };
}

it('knows what the burner did before the recording was interrupted', async () => {
  const next = await killAfter(async ({ run }) => {
    await run(10, shut);
    await run(2, unlit);
    await run(20, burning);
    await run(10, shut);
    await run(2, unlit);
    await run(10, burning);
  }, burning);
  const stretches = await next.stretches();
  const kinds = stretches.map(({ kind }) => kind).filter((kind) => kind !== 'unknown');
  // The last two: before and after the interruption.
  expect(kinds).toEqual(['shut', 'unlit', 'lit', 'shut', 'unlit', 'lit', 'lit']);
  // Gas came on at 10 s and at 42 s; a second around a change does not count.
  const began = stretches.filter(({ kind }) => kind === 'unlit').map(({ fromS }) => fromS);
  expect(Math.abs(began[0]! - 10)).toBeLessThan(1);
  expect(Math.abs(began[1]! - 42)).toBeLessThan(1);
  // Nobody looked in between, and the stretches follow each other without an overlap.
  const between = stretches.filter(
    ({ kind, fromS, toS }) => kind === 'unknown' && fromS < next.endS + 1 && toS > next.endS + 20,
  );
  expect(between).toHaveLength(1);
  stretches.slice(1).forEach(({ fromS }, i) => expect(fromS).toBeGreaterThanOrEqual(stretches[i]!.toS - 1e-9));
});

it('asks for a full purge after gas that was shut before the interruption, and knows that the regulator was turned', async () => {
  const next = await killAfter(async ({ run }) => {
    await run(10, shut);
    await run(2, unlit);
    await run(20, burning);
    for (let k = 1; k <= 30; k += 1) await run(0.2, { ...burning, pressure: 2.4 + 0.03 * k });
    await run(5, { ...burning, pressure: 3.3 });
    await run(4, shut);
  }, shut);
  await waitUntil('the purge', async () => (await next.burner()).purge.needed);
  expect((await next.burner()).purge).toMatchObject({ needed: true, purgedS: 0 });
  expect((await next.view()).regulatorTurned).toBe(true);
});

it('goes on sounding when the flame that was lost before the interruption is still lost', async () => {
  const next = await killAfter(async ({ run }) => {
    await run(10, shut);
    await run(2, unlit);
    await run(30, burning);
    await run(6, unlit);
  }, unlit);
  await waitUntil('the alarm', async () => (await next.burner()).alarm !== undefined);
  expect((await next.burner()).alarm?.message).toMatch(/Shut the gas now/);
});

it('remembers what the technician said of the hose before the interruption', async () => {
  const dark = { pressure: 0, signal: 0.02 };
  const tell = (says: boolean) =>
    killAfter(async (story) => {
      await story.run(10, shut);
      await story.run(2, unlit);
      await story.run(20, burning);
      await story.run(6, { pressure: 0, signal: 4.6 }); // the hose comes off
      await story.run(15, dark);
      if (says) await story.handlers['burner.gasOff']({}, neverAborted);
      await story.run(5, dark);
    }, dark);
  const said = await tell(true);
  await waitUntil('gas is shut', async () => (await said.burner()).gas === 'shut');
  expect((await said.burner()).alarm).toBeUndefined();
  const unsaid = await tell(false);
  await waitUntil('the alarm', async () => (await unsaid.burner()).alarm !== undefined);
  expect((await unsaid.burner()).gas).toBe('unknown');
});
