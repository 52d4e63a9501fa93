import { expect, it } from 'vitest';
import { burning, openStory, setup, shut, unlit } from '../trials/burner-story.ts';

/** Words that would contradict a pressure of 2.4 inH2O, one of 0.2 inH2O, and a signal that has fallen to dark. */
it('half a second after gas came on, was shut, or the flame went out, no word of before is left', async () => {
  const { run, burner } = await openStory({ setup });
  await run(10, shut);
  await run(0.5, unlit);
  expect((await burner()).gas).not.toBe('shut');
  await run(1.5, unlit);
  await run(20, burning);
  expect(await burner()).toMatchObject({ gas: 'flowing', flame: 'burning' });
  await run(0.5, shut);
  expect((await burner()).gas).not.toBe('flowing');
  // The signal follows with a lag of 0.5 s: after 1.5 s it has fallen to a twentieth.
  await run(1, shut);
  expect((await burner()).flame).not.toBe('burning');
});
