import { describe, expect, it } from 'vitest';
import { interruptAsOrphan, neverAborted, storedCapture, valueOf } from '../test-host.ts';
import { burning, codeOf, openStory, setup, shut, type Shown, unlit } from '../trials/burner-story.ts';

const silent: Shown = { pressure: undefined, signal: undefined };

type Story = Awaited<ReturnType<typeof openStory>>;

/** Tells a story, kills the recording, and opens another host on its store 30 s later; its meters are silent at first. */
async function killAfter(tell: (story: Story) => Promise<void>) {
  const before = await openStory({ setup });
  await tell(before);
  const capture = before.capture();
  const atS = 31 + before.elapsedS();
  interruptAsOrphan(before.folder, capture);
  const next = await openStory({ folder: before.folder, records: false, atS });
  return { ...next, before: capture, atS };
}

/** One more start of the program on the same store. */
const startAgain = (folder: string, atS: number) => openStory({ folder, records: false, atS });

/** Nothing is said, also after the interrupted recording was looked at. */
async function expectQuiet(host: Pick<Story, 'burner' | 'run'>) {
  for (let k = 0; k < 20; k += 1) await lookOn(host);
  expect((await host.burner()).alarm).toBeUndefined();
}

/** Lets the host work on what is stored, with its meters silent. */
async function lookOn(host: Pick<Story, 'run'>) {
  for (let k = 0; k < 20; k += 1) await new Promise((resolve) => setImmediate(resolve));
  await host.run(0.1, silent);
}

async function untilAlarm(host: Pick<Story, 'burner' | 'run'>) {
  for (let k = 0; k < 50; k += 1) {
    if ((await host.burner()).alarm) return;
    await lookOn(host);
  }
  throw new Error('no alarm');
}

describe('a recording that was cut off with gas on and no flame', () => {
  const cutOff = () =>
    killAfter(async ({ run }) => {
      await run(10, shut);
      await run(4, unlit);
    });

  it('is said at the next start, before any meter speaks, and nothing may be set meanwhile', async () => {
    const next = await cutOff();
    await untilAlarm(next);
    const { alarm, settingRefusal } = await next.burner();
    expect(alarm).toMatchObject({ kind: 'gas-unlit', interrupted: true });
    expect(alarm!.message).toMatch(/^Gas was on, no flame\./u);
    expect(Math.abs(alarm!.forS - 30)).toBeLessThan(2);
    expect(settingRefusal?.code).toBe('gas-was-unlit');
    await next.run(30, silent);
    expect((await next.burner()).alarm).toBeDefined();
    await next.record();
    expect(codeOf(await next.handlers['trials.begin']({ capture: next.capture(), sparkDelayS: 0 }, neverAborted))).toBe(
      'gas-was-unlit',
    );
  });

  it('stays until the meters show gas shut; then a full purge is due, and no later start speaks of it', async () => {
    const next = await cutOff();
    await untilAlarm(next);
    await next.run(5, unlit);
    expect((await next.burner()).alarm).toBeDefined();
    await next.run(5, shut);
    const { alarm, purge } = await next.burner();
    expect(alarm).toBeUndefined();
    expect(purge).toMatchObject({ needed: true, purgedS: 0 });
    expect(storedCapture(next.folder, next.before).marks.at(-1)?.kind).toBe('gas-shut');
    await next.host.close();
    await expectQuiet(await startAgain(next.folder, next.atS + 60));
  });

  it('is over once the technician has confirmed that gas is off, and no later start speaks of it', async () => {
    const next = await cutOff();
    await untilAlarm(next);
    valueOf(await next.handlers['burner.gasOff']({}, neverAborted));
    expect((await next.burner()).alarm).toBeUndefined();
    expect(storedCapture(next.folder, next.before).marks.at(-1)).toMatchObject({
      kind: 'gas-shut',
      text: 'after recording was cut off, as the technician said',
    });
    await next.host.close();
    await expectQuiet(await startAgain(next.folder, next.atS + 60));
  });

  it('is said again at each start until then', async () => {
    const next = await cutOff();
    await untilAlarm(next);
    await next.host.close();
    await untilAlarm(await startAgain(next.folder, next.atS + 60));
  });

  it('has its end in the recording that goes on, and not where it was cut off: gas was on in between', async () => {
    const next = await cutOff();
    await untilAlarm(next);
    await next.resume(next.before);
    for (let k = 0; k < 5; k += 1) await lookOn(next);
    await next.run(15, unlit);
    expect((await next.burner()).alarm?.interrupted).toBeUndefined();
    await next.run(6, shut);
    expect((await next.burner()).alarm).toBeUndefined();
    const shutAt = storedCapture(next.folder, next.before).marks.filter(({ kind }) => kind === 'gas-shut');
    expect(shutAt).toHaveLength(1);
    // Cut off at 14 s, gone on 30 s later, shut after 15 s more.
    expect(shutAt[0]!.elapsedS).toBeGreaterThan(55);
  });

  it('gives way to what the meters show now, which nobody can confirm away', async () => {
    const next = await cutOff();
    await untilAlarm(next);
    await next.run(15, unlit);
    const { alarm } = await next.burner();
    expect(alarm?.kind).toBe('gas-unlit');
    expect(alarm?.interrupted).toBeUndefined();
    expect(codeOf(await next.handlers['burner.gasOff']({}, neverAborted))).toBe('gas-unlit');
    expect((await next.burner()).alarm).toBeDefined();
  });
});

it('a flame that was lost when the recording was cut off is said as well', async () => {
  const next = await killAfter(async ({ run }) => {
    await run(10, shut);
    await run(2, unlit);
    await run(20, burning);
    await run(6, unlit);
  });
  await untilAlarm(next);
  expect((await next.burner()).alarm?.interrupted).toBe(true);
});

it.each([
  ['a flame burning', burning],
  ['gas shut', shut],
])('nothing is said of a recording that was cut off with %s', async (_what, last) => {
  const next = await killAfter(async ({ run }) => {
    await run(10, shut);
    await run(2, unlit);
    await run(20, burning);
    await run(10, last);
  });
  await expectQuiet(next);
});
