import { expect, it } from 'vitest';
import { valueOf, neverAborted } from '../test-host.ts';
import { burning, openStory, shut, unlit } from './burner-story.ts';

// Gas at 10 s, flame at 11 s, trial for ignition until 20 s. What a control would find at the end of the trial, or when its gas is shut,
// decides whether the trial lit.
const opened = async () => {
  const story = await openStory();
  await story.run(10, shut);
  await story.run(1, unlit);
  return story;
};

it.each([1.5, 4, 7])('a flame that goes out again %d s later, within the trial, has not lit', async (burnsS) => {
  const story = await opened();
  await story.run(burnsS, burning);
  await story.run(14 - burnsS, unlit);
  await story.run(8, shut);
  const { trials } = await story.view();
  expect(trials).toHaveLength(2);
  expect(trials[1]).toMatchObject({ lit: false, corrects: 1, knownBy: 'corrected' });
  expect(trials[1]).not.toHaveProperty('timeToProveS');
  expect(trials[1]!.reason).toMatch('went out again within the trial for ignition');
});

it('one whose gas is shut at once after it went out has not lit either', async () => {
  const story = await opened();
  await story.run(4, burning);
  await story.run(3, unlit);
  await story.run(8, shut);
  expect((await story.view()).trials.at(-1)).toMatchObject({ lit: false, knownBy: 'corrected' });
});

it('nor has one whose recording ends before the trial does', async () => {
  const story = await opened();
  await story.run(4, burning);
  await story.run(3, unlit);
  const capture = story.capture();
  valueOf(await story.handlers['captures.finish']({ capture }, neverAborted));
  expect((await story.view()).trials.at(-1)).toMatchObject({ lit: false, knownBy: 'corrected' });
});

it('a flame that goes out and is relit within the trial has lit, and the entry says so', async () => {
  const story = await opened();
  await story.run(3, burning);
  await story.run(2, unlit);
  await story.run(20, burning);
  const { trials } = await story.view();
  expect(trials).toMatchObject([{ lit: true }, { lit: true, corrects: 1 }]);
  expect(trials[1]!.reason).toContain('came back');
  expect(trials[1]).toHaveProperty('timeToProveS');
});

it.each([
  ['goes out after the trial', [[13, burning], [5, unlit], [8, shut]]], // prettier-ignore
  ['burned when the gas was shut, within the trial', [[5, burning], [8, shut]]], // prettier-ignore
] as const)('a flame that %s has lit', async (_what, then) => {
  const story = await opened();
  for (const [seconds, shown] of then) await story.run(seconds, shown);
  expect((await story.view()).trials).toMatchObject([{ lit: true, knownBy: 'meters' }]);
});
