import { expect, it } from 'vitest';
import { neverAborted, valueOf } from '../test-host.ts';
import { burning, openStory, shut, type Shown, unlit } from '../trials/burner-story.ts';

// 0.12 inH2O above the fan-only pressure that is entered: the valve leaks, or the manometer's zero has shifted.
const above: Shown = { pressure: 0.32, signal: 0.02 };

it('an alarm stays when the visit is finished, until gas is seen shut', async () => {
  const { run, burner, handlers, capture } = await openStory();
  await run(10, shut);
  await run(2, unlit);
  await run(15, burning);
  await run(10, above);
  expect((await burner()).alarm).toMatchObject({ kind: 'flame-lost' });
  valueOf(await handlers['captures.finish']({ capture: capture() }, neverAborted));
  await run(30, above);
  expect((await burner()).alarm).toMatchObject({ kind: 'flame-lost' });
  await run(5, shut);
  expect((await burner()).alarm).toBeUndefined();
});
