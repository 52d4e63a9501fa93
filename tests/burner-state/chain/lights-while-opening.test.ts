import { expect, it } from 'vitest';
import { followLive } from '../../benchmark/burner-state/follow-live.ts';
import { drawVisit } from '../../benchmark/visit/visit.ts';

// The flame takes hold while the valve still opens, and goes out half a second later; a signal meter of two readings a second shows one of it
// at its height. When it could be known is the truth of the visit that was drawn.
it('a flame that takes hold before the valve is open, and goes out at once, is lost and not missing', () => {
  const visit = drawVisit('trials at other pressures', 2096);
  const { alarms } = followLive(visit);
  const known = visit.truth.losses.map(({ earliestDetectable_s }) => earliestDetectable_s!);
  expect(known).toHaveLength(1);
  const told = alarms.filter(({ kind }) => kind === 'flame-lost').map(({ fromS }) => fromS);
  expect(told).toHaveLength(1);
  expect(told[0]).toBeGreaterThan(visit.truth.losses[0]!.at_s);
  expect(told[0]).toBeLessThan(known[0]! + 1.5);
});
