import { expect, it } from 'vitest';
import { burning, openStory, shut, unlit } from '../trials/burner-story.ts';

it('a flame that is lost again as soon as it was said to be back gets a mark and a counter of its own', async () => {
  const { run, burner, stored } = await openStory();
  await run(10, shut);
  await run(2, unlit);
  await run(20, burning);
  await run(8, unlit);
  expect((await burner()).alarm).toMatchObject({ kind: 'flame-lost', count: 1 });
  for (let k = 0; k < 60 && !(await burner()).alarm?.isLit; k += 1) await run(0.1, burning);
  expect((await burner()).alarm).toMatchObject({ isLit: true, count: 1 });
  const back = (await burner()).alarm!;
  expect(back.message).toContain(`gas was unlit for ${Math.floor(back.forS)} s.`);
  await run(5, unlit);
  const { alarm } = await burner();
  expect(alarm).toMatchObject({ kind: 'flame-lost', count: 2 });
  expect(alarm?.isLit).toBeUndefined();
  // Its own counter, less what the signal takes to fall.
  expect(alarm!.forS).toBeGreaterThan(3);
  expect(alarm!.forS).toBeLessThan(6);
  await run(1, unlit);
  expect(stored().marks.filter(({ kind }) => kind === 'flame-lost')).toHaveLength(2);
});
