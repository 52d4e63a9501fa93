import { describe, expect, it } from 'vitest';
import { mustShutGas } from '../../../shared/burner-state/trials/trial-words.ts';
import { neverAborted, valueOf } from '../test-host.ts';
import { burning, openStory, type Shown, shut, unlit } from './burner-story.ts';

/** Whether the last trial lit; nothing here is corrected or discarded. */
const lastLit = ({ trials }: { trials: readonly { lit: boolean }[] }) => trials.at(-1)?.lit;

type Story = Awaited<ReturnType<typeof openStory>>;

/** What a window would say tenth by tenth: of a trial that runs, that gas is to be shut now, or neither. */
async function follow(story: Story, seconds: number, shown: Shown): Promise<('trial' | 'shut-now' | 'calm')[]> {
  const said: ('trial' | 'shut-now' | 'calm')[] = [];
  for (let k = 0; k < Math.round(10 * seconds); k += 1) {
    await story.run(0.1, shown);
    const view = await story.view();
    const mustShut = mustShutGas(await story.burner(), lastLit(view));
    said.push(view.runningTrial ? 'trial' : mustShut ? 'shut-now' : 'calm');
  }
  return said;
}
const confirmFan = async ({ handlers }: Story) =>
  valueOf(await handlers['burner.air']({ confirmed: true }, neverAborted));

describe('gas that comes on', () => {
  it('is never to be shut in a healthy light-off, before the trial is recognized or after, also after one that failed', async () => {
    const story = await openStory();
    await confirmFan(story);
    await story.run(10, shut);
    const first = await follow(story, 3, unlit);
    expect(first).not.toContain('shut-now');
    expect(first.at(-1)).toBe('trial');
    await story.run(3, shut);
    await story.run(30, shut); // a purge of 20 s is wanted
    expect(lastLit(await story.view())).toBe(false);
    const second = [...(await follow(story, 1.5, unlit)), ...(await follow(story, 8, burning))];
    expect(second).not.toContain('shut-now');
    expect(lastLit(await story.view())).toBe(true);
  });

  it('is to be shut at once where it comes on during the purge, or after a mere wait', async () => {
    for (const isPurge of [true, false]) {
      const story = await openStory();
      if (isPurge) await confirmFan(story);
      await story.run(10, shut);
      await story.run(4, unlit);
      await story.run(isPurge ? 15 : 60, shut);
      const said = await follow(story, 2, unlit);
      expect(said.filter((what) => what !== 'calm')[0]).toBe('shut-now');
      expect((await story.view()).runningTrial?.purgeShort).toMatch(/^Purge shortened/u);
    }
  });

  it('is to be shut where nobody saw it come on, where the flame was lost, and when the time of the trial is over', async () => {
    const unseen = await openStory();
    const early = await follow(unseen, 5, unlit);
    expect(early).not.toContain('trial');
    expect(early.at(-1)).toBe('shut-now');
    expect(await unseen.burner()).not.toHaveProperty('trialGas');

    const story = await openStory();
    await story.run(10, shut);
    await story.run(1, unlit);
    await story.run(20, burning);
    const lost = await follow(story, 3, unlit);
    expect(lost).not.toContain('trial');
    expect(lost.at(-1)).toBe('shut-now');

    const late = await openStory();
    await late.run(10, shut);
    await late.run(15, unlit);
    const burner = await late.burner();
    expect(burner).not.toHaveProperty('trialGas');
    expect(mustShutGas(burner, false)).toBe(true);
  });
});
