import { expect, it } from 'vitest';
import { createCaptureClock } from '../../renderer/state/live/capture-clock.ts';

it('knows nothing before the first batch', () => {
  expect(createCaptureClock().at(100)).toBeUndefined();
});

it('trusts the batch that travelled fastest', () => {
  const clock = createCaptureClock();
  clock.hear(10, 100); // 0.3 s under way
  clock.hear(11.25, 101); // 0.05 s under way
  clock.hear(12, 102); // 0.3 s again
  expect(clock.at(102)).toBeCloseTo(12.25, 9);
});

it('forgets what it heard over a minute ago, so that it follows a drifting clock', () => {
  const clock = createCaptureClock();
  clock.hear(10, 100);
  clock.hear(71, 162); // one second behind what the first batch said
  expect(clock.at(162)).toBeCloseTo(71, 9);
});
