import { expect, it } from 'vitest';
import { createCaptureClock } from '../../../renderer/state/live/capture-clock.ts';

it('has no estimate before the first batch', () => {
  expect(createCaptureClock().at(100)).toBeUndefined();
});

it('trusts the batch with the shortest delay', () => {
  const clock = createCaptureClock();
  clock.addBatch(10, 100); // delayed by 0.3 s
  clock.addBatch(11.25, 101); // delayed by 0.05 s
  clock.addBatch(12, 102); // 0.3 s again
  expect(clock.at(102)).toBeCloseTo(12.25, 9);
});

it('drops batches over a minute old, so that it follows a drifting clock', () => {
  const clock = createCaptureClock();
  clock.addBatch(10, 100);
  clock.addBatch(71, 162); // one second behind the first batch
  expect(clock.at(162)).toBeCloseTo(71, 9);
});
