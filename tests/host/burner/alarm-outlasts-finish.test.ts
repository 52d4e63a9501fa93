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

it('what the technician said of a hose that was off holds when the visit is finished: no alarm over gas that is shut', async () => {
  const { run, burner, handlers, capture } = await openStory();
  await run(20, shut);
  await run(20, burning);
  await run(10, { pressure: 0, signal: 4.6 }); // the hose comes off, the pilot burns on
  await run(10, { pressure: 0, signal: 0.02 }); // gas is shut
  await run(5, shut); // the hose is on again
  valueOf(await handlers['burner.gasOff']({}, neverAborted));
  valueOf(await handlers['burner.air']({ confirmed: true }, neverAborted));
  await run(30, shut);
  expect((await burner()).alarm).toBeUndefined();
  valueOf(await handlers['captures.finish']({ capture: capture() }, neverAborted));
  await run(20, shut);
  const { alarm, pressureTrouble } = await burner();
  expect([alarm, pressureTrouble]).toEqual([undefined, undefined]);
});
