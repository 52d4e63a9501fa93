import { expect, it } from 'vitest';
import { endCapture, insertRecording } from '../../../electron/host/store/captures.ts';
import { openStore } from '../../../electron/host/store/open.ts';
import { createOwner } from '../../../electron/host/store/owner.ts';
import { addOwnTrial, trialsOf } from '../../../electron/host/store/trials.ts';
import { testFolder } from '../../helpers/test-folder.ts';
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
  expect(codeOf(await story.handlers['captures.finish']({ capture: branch }, neverAborted))).toBe('ok');
});

it('an entry goes only into a capture that its owner still records', async () => {
  const folder = testFolder();
  const { db, close } = valueOf(openStore(folder));
  const [own, other] = [createOwner(), createOwner()];
  const startedAt = '2026-11-27T08:00:00Z';
  const key = insertRecording(db, { id: 'capture', startedAt, setup: {} }, own, Date.parse(startedAt));
  const trial = { pressure: 2.4, unit: 'inH2O', lit: true } as const;
  expect(addOwnTrial(db, key, other, trial)).toBeUndefined();
  expect(trialsOf(db, key)).toEqual([]);
  expect(addOwnTrial(db, key, own, trial)).toBeDefined();
  // One that was called interrupted meanwhile is taken back by the next batch; one that is complete is not.
  endCapture(db, key, own, 'interrupted');
  expect(addOwnTrial(db, key, own, trial)).toBeDefined();
  endCapture(db, key, own, 'complete');
  expect(addOwnTrial(db, key, own, trial)).toBeUndefined();
  expect(trialsOf(db, key)).toHaveLength(2);
  close();
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
