import { expect, it } from 'vitest';
import { interruptAsOrphan, neverAborted, openTestHost, storedCapture, valueOf } from '../test-host.ts';
import { refuseStatements } from '../store/refuse-statements.ts';
import { burning, codeOf, openStory, shut, unlit } from './burner-story.ts';

/** A recording with a trial that runs, taken over by another program before the recorder has noticed. */
async function takeOver(story: Awaited<ReturnType<typeof openStory>>) {
  interruptAsOrphan(story.folder, story.capture());
  const other = await openTestHost(story.folder, {
    clock: { monotonicMs: () => 5000, wallMs: () => Date.parse('2026-11-27T08:10:00Z') },
  });
  valueOf(await other.host.handlers['captures.continue']({ capture: story.capture() }, neverAborted));
}

it('a capture that another program took over takes no result of a trial that ran here', async () => {
  const story = await openStory();
  await story.run(10, shut);
  await story.run(2, unlit);
  const capture = story.capture();
  await takeOver(story);
  for (const call of ['trials.end', 'trials.cancel', 'trials.begin'] as const) {
    const input = { capture, lit: true, sparkDelayS: 0 };
    expect(codeOf(await story.handlers[call](input, neverAborted))).toBe('capture-elsewhere');
  }
  await story.run(8, burning); // the recorder notices, and goes on in a capture of its own
  expect(storedCapture(story.folder, capture).trials).toEqual([]);
  expect(codeOf(await story.handlers['trials.end']({ capture, lit: true }, neverAborted))).toBe('not-recording');
});

it('the capture that goes on here has no trial of the one that was taken over', async () => {
  const story = await openStory();
  await story.run(10, shut);
  await story.run(2, unlit);
  const capture = story.capture();
  await takeOver(story);
  await story.run(8, burning);
  const captures = valueOf(await story.handlers['captures.list']({}, neverAborted));
  const branch = captures.find(({ id }) => id !== capture)!.id;
  expect(codeOf(await story.handlers['trials.end']({ capture: branch, lit: true }, neverAborted))).toBe(
    'trial-missing',
  );
  expect(storedCapture(story.folder, branch).trials).toEqual([]);
});

it('a trial whose entry the store refuses stays, and is stored once it accepts it', async () => {
  const story = await openStory();
  await story.run(10, shut);
  await story.run(1, unlit);
  const refusing = refuseStatements('INSERT INTO trial');
  await story.run(8, burning);
  expect((await story.view()).trials).toEqual([]);
  expect((await story.view()).runningTrial).toMatchObject({ over: 'proved' });
  refusing.stop();
  await story.run(1, burning);
  expect((await story.view()).trials).toMatchObject([{ lit: true, knownBy: 'meters' }]);
});
