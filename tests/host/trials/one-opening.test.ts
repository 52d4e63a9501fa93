import { expect, it } from 'vitest';
import { interruptAsOrphan, neverAborted, valueOf } from '../test-host.ts';
import { codeOf, openStory, setup, shut, unlit } from './burner-story.ts';

/** The program is killed with gas on and unlit, and goes on with the recording 30 s later; gas was not shut in between. */
async function killedWithGasOn(
  seenS: [number, number],
  enter: (story: Awaited<ReturnType<typeof openStory>>) => Promise<void>,
) {
  const before = await openStory({ setup });
  await before.run(10, shut);
  await before.run(4, unlit);
  await enter(before);
  await before.run(3, unlit);
  const capture = before.capture();
  const atS = 31 + before.elapsedS();
  interruptAsOrphan(before.folder, capture);
  const next = await openStory({ folder: before.folder, records: false, atS });
  await next.run(seenS[0], { ...unlit, pressure: undefined });
  await next.run(seenS[1], unlit);
  await next.resume(capture);
  for (let k = 0; k < 20; k += 1) await new Promise((resolve) => setImmediate(resolve));
  return next;
}

it.each([
  [0, 0],
  [0, 3],
  [0.1, 0.1],
  [0.1, 0.2],
  [0.1, 0.3],
  [0.1, 0.4],
])(
  'gas never shut is one trial: recording goes on after %d s of the flame signal meter alone and %d s of both',
  async (...seenS) => {
    const next = await killedWithGasOn(seenS, async ({ handlers, capture }) => {
      expect(codeOf(await handlers['trials.end']({ capture: capture(), lit: false }, neverAborted))).toBe('ok');
    });
    await next.run(15, unlit);
    await next.run(10, shut);
    const { trials, marks, runningTrial } = await next.view();
    expect(runningTrial).toBeUndefined();
    expect(trials.map(({ lit }) => lit)).toEqual([false]);
    expect(marks.filter(({ kind }) => kind === 'trial-start')).toHaveLength(1);
    valueOf(await next.handlers['captures.finish']({ capture: next.capture() }, neverAborted));
  },
);
