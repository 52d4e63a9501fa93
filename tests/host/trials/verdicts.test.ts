import { describe, expect, it } from 'vitest';
import { neverAborted, valueOf } from '../test-host.ts';
import { burning, codeOf, openStory, shut, unlit } from './burner-story.ts';

const end = async (story: Awaited<ReturnType<typeof openStory>>, lit: boolean, confirmed?: true) =>
  story.handlers['trials.end']({ capture: story.capture(), lit, ...(confirmed && { confirmed }) }, neverAborted);

describe('a verdict that contradicts the meters', () => {
  it('"did not light" at a burning signal is refused with what they say, and taken once confirmed', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(1.5, burning);
    const refused = await end(story, false);
    expect(refused).toMatchObject({ fault: { code: 'verdict-contradicts-meters' } });
    expect((refused as { fault: { message: string } }).fault.message).toMatch(
      /a flame in this trial \(now 4\.\d+ V\)/u,
    );
    expect((await story.view()).trials).toEqual([]);
    expect(codeOf(await end(story, false, true))).toBe('ok');
    expect((await story.view()).trials).toMatchObject([{ lit: false, knownBy: 'hand' }]);
  });

  it('"lit" in the dark is refused, and taken once confirmed', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(4, unlit);
    expect(codeOf(await end(story, true))).toBe('verdict-contradicts-meters');
    expect(codeOf(await end(story, true, true))).toBe('ok');
    expect((await story.view()).trials).toMatchObject([{ lit: true, knownBy: 'hand' }]);
  });

  it('that agrees is taken at once, also after the flame went out with the gas', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(2.2, burning);
    await story.run(2, shut);
    expect(codeOf(await end(story, true))).toBe('ok');
  });

  it('is questioned in a correction as well, of what the meters showed', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(8, burning);
    const [trial] = (await story.view()).trials;
    const correct = (changes: object, confirmed?: true) =>
      story.handlers['trials.correct'](
        { capture: story.capture(), trial: trial!.id, changes, reason: 'looked', ...(confirmed && { confirmed }) },
        neverAborted,
      );
    expect(codeOf(await correct({ lit: false }))).toBe('verdict-contradicts-meters');
    expect(codeOf(await correct({ lit: false }, true))).toBe('ok');
    const { trials } = await story.view();
    expect(trials).toMatchObject([
      { lit: true, knownBy: 'meters' },
      { lit: false, knownBy: 'corrected', corrects: 1, reason: 'looked' },
    ]);
    // A second correction changes what a person said: nothing to ask.
    const again = { capture: story.capture(), trial: trials[1]!.id, changes: { lit: true }, reason: 'was wrong' };
    expect(codeOf(await story.handlers['trials.correct'](again, neverAborted))).toBe('ok');
  });

  it('leaves the spark of a correction alone', async () => {
    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(8, burning);
    const [trial] = (await story.view()).trials;
    const confirmed = { capture: story.capture(), trial: trial!.id, changes: { sparkDelayS: 0 }, reason: 'seen' };
    valueOf(await story.handlers['trials.correct'](confirmed, neverAborted));
    expect((await story.view()).trials.at(-1)).toMatchObject({ sparkDelayS: 0, lit: true });
  });
});
