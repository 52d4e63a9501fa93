import { expect, it } from 'vitest';
import { isSaidGasOff } from '../../../shared/model/said-gas-off.ts';
import { neverAborted } from '../test-host.ts';
import { type Shown, openStory, shut, unlit, burning } from '../trials/burner-story.ts';

const hoseOff: Shown = { pressure: 0, signal: 4.6 };
const hoseOffDark: Shown = { pressure: 0, signal: 0.02 };

it('a flame that goes out behind a manometer that is off stays an alarm until the technician says that gas is off', async () => {
  const story = await openStory();
  await story.run(10, shut);
  await story.run(1, unlit);
  await story.run(20, burning);
  await story.run(6, hoseOff);
  // It burns: nobody can say that gas is off, and the manometer is not believed for that.
  await story.handlers['burner.gasOff']({}, neverAborted);
  await story.run(1, hoseOff);
  expect(await story.burner()).toMatchObject({
    gas: 'unknown',
    pressureTrouble: { kind: 'off' },
    settingRefusal: { code: 'manometer-off' },
  });
  await story.run(20, hoseOffDark);
  expect((await story.burner()).alarm).toMatchObject({ kind: 'flame-lost', mayConfirm: true });
  expect(await story.handlers['burner.gasOff']({}, neverAborted)).toMatchObject({ ok: true });
  await story.run(3, hoseOffDark);
  const after = await story.burner();
  expect(after.alarm).toBeUndefined();
  expect(after).toMatchObject({ gas: 'shut', purge: { needed: true } });
});

it('nobody ends the alarm of a flame that is lost while the manometer shows gas', async () => {
  const story = await openStory();
  await story.run(10, shut);
  await story.run(1, unlit);
  await story.run(20, burning);
  await story.run(8, unlit);
  expect((await story.burner()).alarm).toMatchObject({ kind: 'flame-lost' });
  expect((await story.burner()).alarm).not.toHaveProperty('mayConfirm');
  expect(await story.handlers['burner.gasOff']({}, neverAborted)).toMatchObject({ ok: false });
});

it('what the technician says of a hose without an alarm is on record', async () => {
  const story = await openStory();
  await story.run(10, shut);
  await story.run(1, unlit);
  await story.run(20, burning);
  await story.run(20, shut);
  // A flame burned behind a hose that was off: the manometer showed shut gas.
  await story.run(8, { pressure: 0, signal: 4.6 });
  await story.run(20, hoseOffDark);
  expect(await story.burner()).toMatchObject({ purge: { mayHaveBurned: true } });
  const marksOfGas = async () => (await story.view()).marks.filter(({ kind }) => kind === 'gas-shut');
  expect(await marksOfGas()).toEqual([]);
  await story.handlers['burner.gasOff']({}, neverAborted);
  const said = await marksOfGas();
  expect(said).toHaveLength(1);
  expect(isSaidGasOff(said[0]!)).toBe(true);
  // Nothing is left to be said.
  await story.handlers['burner.gasOff']({}, neverAborted);
  expect(await marksOfGas()).toHaveLength(1);
});
